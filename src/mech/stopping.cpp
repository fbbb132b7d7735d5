#include "mech/stopping.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "base/text.hpp"
#include "mech/field_range.hpp"
#include "mech/gravity.hpp"

namespace rollwright::mech {
namespace {

std::optional<Error> braking_bike_problem(const BrakingBike& bike) {
  if (auto error = first_outside(
          {{"whole mass", bike.whole.in(kg), 20, 500, "kg"},
           {"wheelbase", bike.wheelbase.in(mm), 700, 3000, "mm"},
           {"height of the centre of mass", bike.centre_height.in(mm), 300, 1800, "mm"},
           {"grip", bike.grip, 0.05, 1.2, ""},
           {"brake force", bike.brake_force.value_or(10 * newton).in(newton), 10, 5000, "N"},
           {"slope", bike.slope, -0.35, 0.35, ""}})) {
    return error;
  }
  if (0 * mm < bike.centre_behind_front && bike.centre_behind_front < bike.wheelbase) {
    return std::nullopt;
  }
  return Error{Code::kContradiction, "The centre of mass does not lie between the two wheels.",
               Place{.field = "centre of mass behind the front wheel"}};
}

/// Braking force over mass that grip allows, for a load across the road of 1 m/s^2 a kilogram.
double grip_share(const BrakingBike& bike) {
  const double back = bike.centre_behind_front / bike.wheelbase;
  const double high = bike.centre_height / bike.wheelbase;
  switch (bike.braked) {
    case Braked::kRearOnly:
      return bike.grip * back / (1 + bike.grip * high);
    case Braked::kFrontOnly: {
      const double left = 1 - bike.grip * high;
      return left > 0 ? bike.grip * (1 - back) / left : std::numeric_limits<double>::infinity();
    }
    case Braked::kBoth:
      break;
  }
  return bike.grip;
}

}  // namespace

Result<Deceleration> hardest_braking(const BrakingBike& bike) {
  if (auto error = braking_bike_problem(bike)) return std::unexpected(*error);
  const double along = bike.slope / std::hypot(1, bike.slope) * kGravity;  // uphill helps
  const double across = kGravity / std::hypot(1, bike.slope);
  Deceleration found{.by_grip_mps2 = grip_share(bike) * across + along};
  found.most_mps2 = found.by_grip_mps2;
  found.by_tipping_mps2 = std::numeric_limits<double>::infinity();
  if (bike.braked != Braked::kRearOnly) {
    found.by_tipping_mps2 = bike.centre_behind_front / bike.centre_height * across + along;
  }
  if (found.by_tipping_mps2 < found.most_mps2) {
    found.most_mps2 = found.by_tipping_mps2;
    found.limit = BrakingLimit::kTippingOver;
  }
  if (bike.brake_force) {
    found.by_brakes_mps2 = bike.brake_force->in(newton) / bike.whole.in(kg) + along;
    if (*found.by_brakes_mps2 < found.most_mps2) {
      found.most_mps2 = *found.by_brakes_mps2;
      found.limit = BrakingLimit::kBrakeForce;
    }
  }
  if (found.most_mps2 > 0) return found;
  return refuse(Code::kContradiction,
                fmt::format("On a slope of {} % this bike cannot be held, let alone stopped.",
                            rounded(-100 * bike.slope, 1)),
                {.field = "slope"});
}

Result<StoppingDistance> stopping_distance(Speed speed, double reaction_s,
                                           double deceleration_mps2) {
  if (auto error = first_outside({{"speed", speed.in(km_per_hour), 1, 100, "km/h"},
                                  {"reaction time", reaction_s, 0, 5, "s"},
                                  {"deceleration", deceleration_mps2, 0.1, 12, "m/s²"}})) {
    return std::unexpected(*error);
  }
  const double v = speed.in(metre_per_second);
  StoppingDistance found{.reaction = v * reaction_s * metre,
                         .braking = v * v / (2 * deceleration_mps2) * metre,
                         .seconds = reaction_s + v / deceleration_mps2};
  found.whole = found.reaction + found.braking;
  return found;
}

Result<double> deceleration_over(Speed speed, Length braking) {
  if (auto error = first_outside({{"speed", speed.in(km_per_hour), 1, 100, "km/h"},
                                  {"braking way", braking.in(metre), 0.2, 200, "m"}})) {
    return std::unexpected(*error);
  }
  const double v = speed.in(metre_per_second);
  return v * v / (2 * braking.in(metre));
}

Result<Length> corrected_braking(Length measured, Speed driven, Speed named) {
  if (auto error = first_outside({{"speed", driven.in(km_per_hour), 1, 100, "km/h"},
                                  {"speed of the test", named.in(km_per_hour), 1, 100, "km/h"},
                                  {"braking way", measured.in(metre), 0.2, 200, "m"}})) {
    return std::unexpected(*error);
  }
  const double off = std::fabs((driven - named).in(km_per_hour));
  if (off > 1.5 + 1e-9) {
    return refuse(Code::kRefused,
                  fmt::format("The run was {} km/h off the speed of the test; up to 1.5 km/h can "
                              "be corrected. Drive it again.",
                              rounded(off, 1)),
                  {.field = "speed"});
  }
  const double ratio = named / driven;
  return ratio * ratio * measured;
}

const std::vector<BrakeTest>& brake_tests() {
  // [brake-tests]: ways of ISO 4210-2 from memory; the American one found.
  static const std::vector<BrakeTest> rows = [] {
    struct Kind {
      const char* bicycle;
      double dry_both, dry_rear, wet_both, wet_rear;  // m
    };
    constexpr Kind kinds[] = {{"city and trekking", 7, 15, 5, 10},
                              {"young adult", 7, 15, 5, 10},
                              {"mountain", 6, 10, 5, 10},
                              {"racing", 6, 12, 5, 10}};
    const std::string memory = "ISO 4210-2, from memory";
    std::vector<BrakeTest> made;
    for (const Kind& kind : kinds) {
      made.push_back({kind.bicycle, false, false, 25 * km_per_hour, kind.dry_both * metre, memory});
      made.push_back({kind.bicycle, false, true, 25 * km_per_hour, kind.dry_rear * metre, memory});
      made.push_back({kind.bicycle, true, false, 16 * km_per_hour, kind.wet_both * metre, memory});
      made.push_back({kind.bicycle, true, true, 16 * km_per_hour, kind.wet_rear * metre, memory});
    }
    const std::string us = "16 CFR 1512.5(b)(1)";
    const std::string fast = "USA, development over 6.67 m";
    made.push_back({fast, false, false, 15 * mile_per_hour, 15 * foot, us});
    made.push_back({"USA, others", false, false, 10 * mile_per_hour, 15 * foot, us});
    return made;
  }();
  return rows;
}

}  // namespace rollwright::mech
