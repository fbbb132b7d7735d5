#include "aids/truing_drawing.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

namespace rollwright::aids {

namespace {

const char* word_of(mech::TruingVerdict verdict) {
  switch (verdict) {
    case mech::TruingVerdict::kInside: return "inside";
    case mech::TruingVerdict::kTurn: return "turn";
    case mech::TruingVerdict::kApproach: return "nearer";
    case mech::TruingVerdict::kRimBent: return "rim bent";
  }
  broken_promise("every verdict has a word", __FILE__, __LINE__);
}

int turn_of(const mech::TruingAdvice& advice, int spoke) {
  const auto found = std::ranges::find(advice.turns, spoke, &mech::SpokeTurn::spoke);
  return found == advice.turns.end() ? 0 : found->quarters;
}

/// Where the spoke meets the hub, seen along the axle: back from the nipple along its pull.
void draw_line(const mech::WheelSpoke& spoke, Length radius, WheelOnStand::Spoke& drawn) {
  const double out = radius.in(mm) - spoke.path.in(mm) * spoke.radial;
  const double along = spoke.path.in(mm) * spoke.tangential;
  drawn.angle_deg = spoke.at.in(degree);
  drawn.hub_angle_deg = drawn.angle_deg + (std::atan2(along, out) * radian).in(degree);
  drawn.hub_radius_mm = std::hypot(out, along);
}

std::vector<WheelOnStand::Spoke> drawn_spokes(const mech::TruingWheel& wheel, Length radius,
                                              const mech::TruingAdvice& advice,
                                              const mech::TruingLimits& limits) {
  std::vector<WheelOnStand::Spoke> spokes;
  for (std::size_t i = 0; i < wheel.spokes().size(); ++i) {
    const mech::WheelSpoke& spoke = wheel.spokes()[i];
    const bool left = spoke.end == mech::WheelEnd::kLeft;
    const int turn = turn_of(advice, static_cast<int>(i));
    WheelOnStand::Spoke drawn{.number = static_cast<int>(i) + 1,
                              .side = left ? "left" : "right",
                              .quarters = turn,
                              .turn = turn_in_words(turn),
                              .now_n = advice.now.tensions[i].in(newton),
                              .now_uncertainty_n = advice.now.uncertainties[i].in(newton),
                              .after_n = advice.after.tensions[i].in(newton),
                              .after_uncertainty_n = advice.after.uncertainties[i].in(newton),
                              .target_n = (left ? limits.left : limits.right).in(newton)};
    draw_line(spoke, radius, drawn);
    spokes.push_back(std::move(drawn));
  }
  return spokes;
}

std::vector<WheelOnStand::Place> drawn_rim(const mech::TruingAdvice& advice) {
  std::vector<WheelOnStand::Place> rim;
  for (std::size_t i = 0; i < advice.now.rim.size(); ++i) {
    const mech::RimPlace& now = advice.now.rim[i];
    const mech::RimPlace& after = advice.after.rim[i];
    rim.push_back({.angle_deg = now.at.in(degree),
                   .lateral_now_mm = now.lateral.in(mm),
                   .radial_now_mm = now.radial.in(mm),
                   .lateral_after_mm = after.lateral.in(mm),
                   .radial_after_mm = after.radial.in(mm)});
  }
  return rim;
}

double middle_mm(const std::vector<mech::RimPlace>& rim, Length mech::RimPlace::*way) {
  const auto [least, most] = std::ranges::minmax_element(rim, {}, way);
  return 0.5 * ((*least).*way + (*most).*way).in(mm);
}

}  // namespace

std::string turn_in_words(int quarters) {
  if (quarters == 0) return "";
  const int all = std::abs(quarters);
  return fmt::format("{} {} {}", all, all == 1 ? "quarter" : "quarters",
                     quarters > 0 ? "tighter" : "looser");
}

WheelOnStand wheel_on_stand(const mech::TruingWheel& wheel, Length radius,
                            const mech::TruingAdvice& advice, const mech::TruingLimits& limits) {
  WheelOnStand drawn{
      .radius_mm = radius.in(mm),
      .verdict = word_of(advice.verdict),
      .said = truing_said(wheel, advice, limits),
      .spokes = drawn_spokes(wheel, radius, advice, limits),
      .rim = drawn_rim(advice),
      .limits = {.lateral_mm = limits.lateral.in(mm),
                 .lateral_middle_mm = middle_mm(advice.after.rim, &mech::RimPlace::lateral),
                 .radial_mm = limits.radial.in(mm),
                 .radial_middle_mm = middle_mm(advice.after.rim, &mech::RimPlace::radial),
                 .highest_n = limits.highest.in(newton),
                 .spread = limits.spread}};
  if (advice.bent) drawn.bent_at_deg = advice.bent->at.in(degree);
  for (const int spoke : advice.read_next) drawn.read_next.push_back(spoke + 1);
  return drawn;
}

}  // namespace rollwright::aids
