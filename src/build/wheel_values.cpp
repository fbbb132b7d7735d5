#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/text.hpp"
#include "build/calculations.hpp"
#include "mech/tension_ratio.hpp"

// Wheels laced here: hub, rim and spokes are parts of their own. Tensions need the rim's printed
// limit; without it there is a question and no target.

namespace rollwright::build {
namespace {

// A hand-built wheel keeps every spoke within 10 % of its side's mean ([tension-spread]).
constexpr double kSpread = 0.10;
// Spokes are taken from the drawer up to 1 mm shorter and 0.5 mm longer than computed
// ([spoke-stock]).
constexpr Length kShorter = 1.0 * mm;
constexpr Length kLonger = 0.5 * mm;

struct WheelAsked {
  mech::WheelGeometry geometry;
  std::string note;  // how an offset rim was turned
};

/// Counts of hub and rim agree, and the spokes have heads that the geometry covers.
bool can_be_laced(FactReader& facts, const std::string& end) {
  const auto hub_holes = facts.number(end + "_hub", "spoke_count");
  const auto rim_holes = facts.number(end + "_rim", "spoke_count");
  const auto head = facts.word(end + "_hub", "spoke_head");
  if (!hub_holes || !rim_holes || !head) return false;
  if (*hub_holes != *rim_holes) {
    facts.ask(fmt::format("{} has {} holes, {} has {}: which of them is wrong?",
                          facts.named(end + "_hub"), plain(*hub_holes),
                          facts.named(end + "_rim"), plain(*rim_holes)));
    return false;
  }
  if (*head != "J-bend") {
    facts.ask(fmt::format("{} takes straight-pull spokes: take their lengths from the hub "
                          "maker's drawing",
                          facts.named(end + "_hub")));
    return false;
  }
  return true;
}

/// Where the nipples stand, towards the left. A rim's offset is stated for the rear wheel; a front
/// rim is laced so that its nipples stand away from the flange that is nearer to the middle.
Length nipples_towards_left(const std::string& end, Length offset_right,
                            const mech::WheelGeometry& geometry) {
  if (end == "rear" || geometry.left.offset == geometry.right.offset) return -offset_right;
  const Length away = std::max(offset_right, -offset_right);
  return geometry.left.offset < geometry.right.offset ? -away : away;
}

std::optional<WheelAsked> asked_wheel(FactReader& facts, const std::string& end) {
  const bool laced = can_be_laced(facts, end);
  const std::string hub = end + "_hub";
  const auto left_circle = facts.number(hub, "flange_diameter_left");
  const auto right_circle = facts.number(hub, "flange_diameter_right");
  const auto left_offset = facts.number(hub, "flange_offset_left");
  const auto right_offset = facts.number(hub, "flange_offset_right");
  const auto hole = facts.number(hub, "spoke_hole_diameter");
  const auto holes = facts.number_if_known(hub, "spoke_count");
  const auto erd = facts.number(end + "_rim", "erd");
  const auto offset = facts.number(end + "_rim", "rim_offset");
  const auto crosses = facts.number(end + "_spokes", "crosses");
  const bool known = laced && left_circle && right_circle && left_offset && right_offset && hole &&
                     erd && offset && crosses;
  if (!known) return std::nullopt;

  const int per_flange = static_cast<int>(std::lround(*holes)) / 2;
  WheelAsked wheel{.geometry = {
                       .left = {*left_circle * mm, *left_offset * mm, per_flange, *crosses},
                       .right = {*right_circle * mm, *right_offset * mm, per_flange, *crosses},
                       .rim_diameter = *erd * mm,
                       .spoke_hole = *hole * mm,
                   }};
  wheel.geometry.nipples_towards_left =
      nipples_towards_left(end, *offset * mm, wheel.geometry);
  const double towards_left = wheel.geometry.nipples_towards_left.in(mm);
  if (towards_left != 0) {
    wheel.note = fmt::format("; the rim's nipples stand {} mm to the {}",
                             rounded(std::abs(towards_left), 1),
                             towards_left > 0 ? "left" : "right");
  }
  return wheel;
}

struct SpokesAsked {
  mech::WheelSpokes spokes;
  WheelAsked wheel;
};

std::optional<SpokesAsked> asked_spokes(FactReader& facts, const std::string& end) {
  const auto wheel = asked_wheel(facts, end);
  if (!wheel) return std::nullopt;
  const Result<mech::WheelSpokes> spokes = mech::wheel_spokes(wheel->geometry);
  if (!spokes) {
    facts.ask(fmt::format("{} wheel: {}", end, spokes.error().sentence));
    return std::nullopt;
  }
  return SpokesAsked{*spokes, *wheel};
}

void compare_with_ordered(FactReader& facts, const std::string& end, const std::string& side,
                          Length computed) {
  const auto ordered = facts.number_if_known(end + "_spokes", "spoke_length_" + side);
  if (!ordered) return;
  const Length difference = *ordered * mm - computed;
  if (-kShorter <= difference && difference <= kLonger) return;
  facts.ask(fmt::format("{} are {} mm on the {}; this wheel comes to {} mm: which is right?",
                        facts.named(end + "_spokes"), plain(*ordered), side,
                        rounded(computed.in(mm), 1)));
}

/// Middle of the usual range for the tighter side, from the trade's own reading.
std::optional<Force> usual_tight_tension(FactReader& facts, const std::string& end) {
  const auto& readings = facts.trade().readings;
  const auto found = std::ranges::find(readings, "tension_tight_" + end, &trade::Reading::id);
  if (found == readings.end() || !found->least || !found->most) return std::nullopt;
  return (*found->least + *found->most) / 2 * newton;
}

std::optional<mech::TensionTargets> asked_tensions(FactReader& facts, const std::string& end) {
  const auto limit = facts.number(end + "_rim", "rim_tension_max");
  const auto asked = asked_spokes(facts, end);
  if (!limit || !asked) return std::nullopt;
  const auto most = mech::tension_targets(asked->spokes, {*limit * newton, kSpread});
  if (!most) {
    facts.ask(fmt::format("{} wheel: {}", end, most.error().sentence));
    return std::nullopt;
  }
  const Force tight = std::max(most->left, most->right);
  const double share = std::min(1.0, usual_tight_tension(facts, end).value_or(tight) / tight);
  return mech::TensionTargets{share * most->left, share * most->right, most->left_over_right};
}

std::string tension_words(FactReader& facts, const std::string& end) {
  return fmt::format("the two sides balance over this hub; no spoke within {} % of its side's mean "
                     "passes the {} N printed on {}",
                     rounded(kSpread * 100, 0),
                     plain(facts.number_if_known(end + "_rim", "rim_tension_max").value_or(0)),
                     facts.named(end + "_rim"));
}

}  // namespace

Computed spoke_length(FactReader& facts, const std::string& end, const std::string& side) {
  const auto asked = asked_spokes(facts, end);
  if (!asked) return std::nullopt;
  const Length length = (side == "left" ? asked->spokes.left : asked->spokes.right).length;
  compare_with_ordered(facts, end, side, length);
  const mech::Flange& flange =
      side == "left" ? asked->wheel.geometry.left : asked->wheel.geometry.right;
  return ComputedValue{
      .target = length.in(mm),
      .least = (length - kShorter).in(mm),
      .most = (length + kLonger).in(mm),
      .limit_source = "spokes from stock, 1 mm under to 0.5 mm over",
      .how = fmt::format("{} crosses over {} holes, flange circle {} mm at {} mm, effective rim "
                         "diameter {} mm{}",
                         plain(flange.crosses), flange.holes, plain(flange.circle.in(mm)),
                         plain(flange.offset.in(mm)),
                         plain(asked->wheel.geometry.rim_diameter.in(mm)), asked->wheel.note)};
}

Computed spoke_tension(FactReader& facts, const std::string& end, const std::string& side) {
  const auto tensions = asked_tensions(facts, end);
  if (!tensions) return std::nullopt;
  return ComputedValue{.target = (side == "left" ? tensions->left : tensions->right).in(newton),
                       .how = tension_words(facts, end)};
}

Computed tight_tension(FactReader& facts, const std::string& end) {
  const auto tensions = asked_tensions(facts, end);
  if (!tensions) return std::nullopt;
  const char* side = tensions->left < tensions->right ? "right" : "left";
  return ComputedValue{
      .target = std::max(tensions->left, tensions->right).in(newton),
      .how = fmt::format("the {} side is the tighter one; {}", side, tension_words(facts, end))};
}

Computed tension_share(FactReader& facts, const std::string& end) {
  const auto asked = asked_spokes(facts, end);
  if (!asked) return std::nullopt;
  const auto ratio = mech::tension_left_over_right(asked->spokes);
  if (!ratio) {
    facts.ask(fmt::format("{} wheel: {}", end, ratio.error().sentence));
    return std::nullopt;
  }
  return ComputedValue{.target = 100 * std::min(*ratio, 1 / *ratio),
                       .how = fmt::format("the {} side is the slack one on this hub",
                                          *ratio < 1 ? "left" : "right")};
}

}  // namespace rollwright::build
