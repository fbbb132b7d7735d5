#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "aids/truing_drawing.hpp"
#include "base/text.hpp"

// What the advice says, as a person at the next stand would.
namespace rollwright::aids {

namespace {

std::string turns_counted(const mech::TruingAdvice& advice) {
  int all = 0;
  for (const mech::SpokeTurn& turn : advice.turns) all += std::abs(turn.quarters);
  const std::size_t spokes = advice.turns.size();
  return fmt::format("{} {} on {} {}", all, all == 1 ? "quarter turn" : "quarter turns", spokes,
                     spokes == 1 ? "spoke" : "spokes");
}

/// The number of the spoke whose nipple is nearest to a place of the rim.
int spoke_near(const mech::TruingWheel& wheel, Angle at) {
  const auto away = [&](const mech::WheelSpoke& spoke) {
    return std::abs(std::remainder((spoke.at - at).in(degree), 360.0));
  };
  const auto nearest = std::ranges::min_element(wheel.spokes(), {}, away);
  return static_cast<int>(nearest - wheel.spokes().begin()) + 1;
}

std::string bent_in_words(const mech::TruingWheel& wheel, const mech::TruingAdvice& advice) {
  const mech::BentRim& bent = *advice.bent;
  const bool sideways = bent.direction == mech::RimDirection::kLateral;
  return fmt::format("The rim itself is bent near spoke {}: {:.1f} mm stay {} however the spokes are "
                     "turned.{}",
                     spoke_near(wheel, bent.at), bent.size.in(mm),
                     sideways ? "sideways" : "up and down",
                     advice.turns.empty() ? "" : " " + turns_counted(advice) + " bring it nearer.");
}

std::string verdict_in_words(const mech::TruingWheel& wheel, const mech::TruingAdvice& advice) {
  switch (advice.verdict) {
    case mech::TruingVerdict::kInside:
      return "As far as the readings tell the wheel is inside its limits: leave it alone.";
    case mech::TruingVerdict::kTurn:
      return turns_counted(advice) +
             (advice.after.true_enough >= 0.5
                  ? " should bring the wheel inside its limits."
                  : " are the best next step; likely another pass is needed after them.");
    case mech::TruingVerdict::kApproach:
      return advice.turns.empty()
                 ? "No quarter turn brings it nearer: a wheel cannot be set finer than that."
                 : turns_counted(advice) + " bring it nearer; one pass is not enough.";
    case mech::TruingVerdict::kRimBent: return bent_in_words(wheel, advice);
  }
  broken_promise("every verdict is said", __FILE__, __LINE__);
}

std::string run_out_in_words(const mech::TruingAdvice& advice, const mech::TruingLimits& limits) {
  return fmt::format("Run-out {}: {:.2f} mm sideways where {} is allowed, {:.2f} mm up and down where "
                     "{} is.",
                     advice.turns.empty() ? "now" : "expected after them",
                     advice.after.lateral.in(mm), rounded(limits.lateral.in(mm), 2),
                     advice.after.radial.in(mm), rounded(limits.radial.in(mm), 2));
}

std::string sureness_in_words(const mech::TruingAdvice& advice) {
  return fmt::format("Run-out{} inside in {:.0f} of 100 such wheels, tensions too in {:.0f}.",
                     advice.dish_known ? " and dish are" : " is", 100 * advice.after.true_enough,
                     100 * advice.after.inside);
}

std::string reading_in_words(const std::vector<int>& spokes) {
  constexpr std::size_t kMostNamed = 6;
  std::vector<std::string> numbers;
  for (const int spoke : spokes) {
    if (numbers.size() < kMostNamed) numbers.push_back(std::to_string(spoke + 1));
  }
  return fmt::format("It gets surer when the tension of {} {} is read.",
                     numbers.size() == 1 ? "spoke" : "spokes", listed(numbers));
}

}  // namespace

std::vector<std::string> truing_said(const mech::TruingWheel& wheel,
                                     const mech::TruingAdvice& advice,
                                     const mech::TruingLimits& limits) {
  std::vector<std::string> said{verdict_in_words(wheel, advice), run_out_in_words(advice, limits),
                                sureness_in_words(advice)};
  if (!advice.read_next.empty()) said.push_back(reading_in_words(advice.read_next));
  if (!advice.dish_known) {
    said.emplace_back("How far the rim stands off the middle was not read: it is only kept from "
                      "moving.");
  }
  return said;
}

}  // namespace rollwright::aids
