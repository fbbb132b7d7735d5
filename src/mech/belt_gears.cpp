#include "mech/belt_gears.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "base/text.hpp"
#include "mech/field_range.hpp"

namespace rollwright::mech {
namespace {

struct Combination {
  int front, rear, belt_teeth;
};

std::string shown_mm(Length length) { return rounded(length.in(mm), 1) + " mm"; }

std::optional<Error> belt_gears_problem(const BeltGearsAsked& asked) {
  const double primary = asked.hub.least_primary;
  const double input = asked.hub.most_input.in(newton_metre);
  const double lowest = asked.lowest_wanted.in(metre);
  if (auto error = first_outside(
          {{"stretch of the belt", asked.wear_stretch, 0, 0.01, ""},
           {"hub gears", static_cast<double>(asked.hub_ratios.size()), 1, 20, ""},
           {"least primary ratio", primary == 0 ? 1 : primary, 0.3, 5, ""},
           {"input torque of the hub", input == 0 ? 100 : input, 10, 500, "N·m"},
           {"crank torque", asked.crank_torque.in(newton_metre), 1, 500, "N·m"},
           {"lowest development", lowest, 0.5, 15, "m"},
           {"highest development", asked.highest_wanted.in(metre), 0.5, 20, "m"}})) {
    return error;
  }
  if (asked.lowest_wanted < asked.highest_wanted) return std::nullopt;
  return Error{Code::kContradiction,
               "The lowest gear wanted is not under the highest; swap the two numbers.",
               Place{.field = "lowest development"}};
}

/// Centre distance of the belt after its stretch: as of one with a longer pitch on the belt alone.
Length stretched_centre(const Combination& at, const BeltGearsAsked& asked, const BeltRun& run) {
  const BeltDrive drive{at.front, at.rear, asked.belts.pitch};
  const double wanted = (1 + asked.wear_stretch) * (at.belt_teeth * asked.belts.pitch).in(mm);
  Length low = run.centre_distance;
  Length high = low + 20 * mm + asked.wear_stretch * at.belt_teeth * asked.belts.pitch;
  for (int i = 0; i < 80; ++i) {
    const Length middle = (low + high) / 2;
    const auto length = belt_length(drive, middle);
    (length && length->in(mm) < wanted ? low : high) = middle;
  }
  return (low + high) / 2;
}

std::optional<BeltRefused> belt_does_not_lie(const Combination& at, const BeltGearsAsked& asked,
                                             const BeltRun& run, Length worn) {
  const BeltSearch& belts = asked.belts;
  const auto no = [&](BeltNo why, std::string sentence) {
    return BeltRefused{at.front, at.rear, at.belt_teeth, why, std::move(sentence)};
  };
  const Length centre = run.centre_distance;
  if (centre < belts.least_centre) {
    return no(BeltNo::kTooClose, fmt::format("The belt closes at {}, the frame's shortest is {}.",
                                             shown_mm(centre), shown_mm(belts.least_centre)));
  }
  if (belts.most_centre - centre < belts.room_to_tighten) {
    return no(BeltNo::kTooFar,
              fmt::format("The belt closes at {}; with {} of room to tighten the frame takes {}.",
                          shown_mm(centre), shown_mm(belts.room_to_tighten),
                          shown_mm(belts.most_centre - belts.room_to_tighten)));
  }
  if (worn > belts.most_centre) {
    return no(BeltNo::kNoRoomWorn,
              fmt::format("Stretched by wear the belt needs {}, the frame's longest is {}.",
                          shown_mm(worn), shown_mm(belts.most_centre)));
  }
  return std::nullopt;
}

std::optional<BeltRefused> hub_forbids(const Combination& at, const BeltGearsAsked& asked,
                                       Torque input) {
  const double ratio = static_cast<double>(at.front) / at.rear;
  const auto no = [&](BeltNo why, std::string sentence) {
    return BeltRefused{at.front, at.rear, at.belt_teeth, why, std::move(sentence)};
  };
  if (ratio < asked.hub.least_primary) {
    return no(BeltNo::kPrimary,
              fmt::format("Primary ratio {}, the hub's maker asks for at least {}.",
                          rounded(ratio, 2), rounded(asked.hub.least_primary, 2)));
  }
  if (asked.hub.most_input > Torque{} && input > asked.hub.most_input) {
    return no(BeltNo::kTorque, fmt::format("{} N·m reach the hub, its maker permits {} N·m.",
                                           rounded(input.in(newton_metre), 1),
                                           rounded(asked.hub.most_input.in(newton_metre), 1)));
  }
  return std::nullopt;
}

double off_percent(const BeltGears& gears, const BeltGearsAsked& asked) {
  const double low = std::fabs(std::log(gears.lowest / asked.lowest_wanted));
  const double high = std::fabs(std::log(gears.highest / asked.highest_wanted));
  return 100 * std::expm1((low + high) / 2);
}

Result<BeltGears> gears_of(const Combination& at, const BeltGearsAsked& asked, const BeltRun& run) {
  const auto list = gear_list({{at.front}, {at.rear}, asked.hub_ratios}, asked.wheel);
  if (!list) return std::unexpected(list.error());
  const double ratio = static_cast<double>(at.front) / at.rear;
  BeltGears gears{.fit = {at.front, at.rear, at.belt_teeth, ratio, run,
                          asked.belts.most_centre - run.centre_distance},
                  .worn_centre = stretched_centre(at, asked, run),
                  .lowest = list->gears.front().development,
                  .highest = list->gears.back().development,
                  .input = asked.crank_torque / ratio};
  gears.worn_room = asked.belts.most_centre - gears.worn_centre;
  gears.off_percent = off_percent(gears, asked);
  return gears;
}

/// Puts one combination among those that fit or those that do not. An error is a bad number.
std::optional<Error> judge(const Combination& at, const BeltGearsAsked& asked,
                           BeltGearsFound& found) {
  const auto run = belt_run({at.front, at.rear, asked.belts.pitch}, at.belt_teeth);
  if (!run && run.error().code != Code::kContradiction) return run.error();
  if (!run) {
    found.refused.push_back(
        {at.front, at.rear, at.belt_teeth, BeltNo::kTooShort, run.error().sentence});
    return std::nullopt;
  }
  const auto gears = gears_of(at, asked, *run);
  if (!gears) return gears.error();
  auto no = belt_does_not_lie(at, asked, *run, gears->worn_centre);
  if (!no) no = hub_forbids(at, asked, gears->input);
  if (no) {
    found.refused.push_back(*no);
  } else {
    found.fits.push_back(*gears);
  }
  return std::nullopt;
}

}  // namespace

Result<BeltGearsFound> belt_gears(const BeltGearsAsked& asked) {
  if (auto error = belt_gears_problem(asked)) return std::unexpected(*error);
  BeltSearch checked = asked.belts;
  checked.wanted_ratio = 0;
  // The plain search refuses a range or a list that makes no sense, in its own words.
  if (const auto plain = belts_that_fit(checked); !plain) return std::unexpected(plain.error());
  BeltGearsFound found;
  for (const int front : asked.belts.fronts) {
    for (const int rear : asked.belts.rears) {
      for (const int belt : asked.belts.belts) {
        if (auto error = judge({front, rear, belt}, asked, found)) return std::unexpected(*error);
      }
    }
  }
  std::stable_sort(found.fits.begin(), found.fits.end(),
                   [](const BeltGears& a, const BeltGears& b) {
                     return a.off_percent != b.off_percent ? a.off_percent < b.off_percent
                                                           : a.worn_room > b.worn_room;
                   });
  return found;
}

}  // namespace rollwright::mech
