#include "mech/gearing.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "mech/field_range.hpp"

namespace rollwright::mech {
namespace {

std::optional<Error> gear_problem(const Gear& gear) {
  return first_outside({{"front teeth", static_cast<double>(gear.front), 6, 130, ""},
                        {"rear teeth", static_cast<double>(gear.rear), 6, 130, ""},
                        {"hub ratio", gear.hub_ratio, 0.1, 10, ""}});
}

std::optional<Error> wheel_problem(const DrivenWheel& wheel) {
  return first_outside({{"wheel diameter", wheel.diameter.in(mm), 200, 1000, "mm"},
                        {"wheel circumference", wheel.circumference.in(mm), 600, 3200, "mm"},
                        {"crank length", wheel.crank.in(mm), 80, 220, "mm"}});
}

}  // namespace

Result<GearFigures> gear_figures(const Gear& gear, const DrivenWheel& wheel) {
  if (auto error = gear_problem(gear)) return std::unexpected(*error);
  if (auto error = wheel_problem(wheel)) return std::unexpected(*error);
  const double ratio = static_cast<double>(gear.front) / gear.rear * gear.hub_ratio;
  return GearFigures{.gear = gear,
                     .ratio = ratio,
                     .development = ratio * wheel.circumference,
                     .equivalent = ratio * wheel.diameter,
                     .gain = ratio * (wheel.diameter / 2 / wheel.crank)};
}

Result<Speed> speed_at(Length development, double cadence_per_minute) {
  if (auto error = first_outside({{"development", development.in(metre), 0.1, 30, "m"},
                                  {"cadence", cadence_per_minute, 0, 250, "per minute"}})) {
    return std::unexpected(*error);
  }
  return development.in(metre) * cadence_per_minute / 60 * metre_per_second;
}

Result<GearList> gear_list(const GearSet& set, const DrivenWheel& wheel) {
  if (auto error =
          first_outside({{"chainrings", static_cast<double>(set.fronts.size()), 1, 4, ""},
                         {"sprockets", static_cast<double>(set.rears.size()), 1, 16, ""},
                         {"hub gears", static_cast<double>(set.hub_ratios.size()), 1, 20, ""}})) {
    return std::unexpected(*error);
  }
  GearList list;
  for (const int front : set.fronts) {
    for (const int rear : set.rears) {
      for (const double hub_ratio : set.hub_ratios) {
        const auto figures = gear_figures({front, rear, hub_ratio}, wheel);
        if (!figures) return std::unexpected(figures.error());
        list.gears.push_back(*figures);
      }
    }
  }
  std::stable_sort(list.gears.begin(), list.gears.end(),
                   [](const GearFigures& a, const GearFigures& b) { return a.ratio < b.ratio; });
  for (std::size_t i = 1; i < list.gears.size(); ++i) {
    list.gears[i].step_percent = (list.gears[i].ratio / list.gears[i - 1].ratio - 1) * 100;
  }
  list.range_percent = list.gears.back().ratio / list.gears.front().ratio * 100;
  return list;
}

Result<PrimaryRatio> primary_ratio(const Gear& gear, double least) {
  if (auto error = gear_problem(gear)) return std::unexpected(*error);
  if (auto error = first_outside({{"least primary ratio", least, 0.3, 5, ""}})) {
    return std::unexpected(*error);
  }
  const double ratio = static_cast<double>(gear.front) / gear.rear;
  return PrimaryRatio{ratio, least, ratio >= least};
}

Result<PlanetaryRatios> planetary_ratios(int sun_teeth, int ring_teeth) {
  if (auto error = first_outside({{"sun teeth", static_cast<double>(sun_teeth), 10, 200, ""},
                                  {"ring teeth", static_cast<double>(ring_teeth), 10, 200, ""}})) {
    return std::unexpected(*error);
  }
  if (ring_teeth <= sun_teeth) {
    return refuse(Code::kContradiction,
                  fmt::format("The ring has {} teeth and the sun {}; the ring runs around the sun "
                              "and has more.",
                              ring_teeth, sun_teeth),
                  {.field = "ring teeth"});
  }
  const double both = sun_teeth + ring_teeth;
  return PlanetaryRatios{ring_teeth / both, both / ring_teeth};
}

}  // namespace rollwright::mech
