#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/text.hpp"
#include "build/calculations.hpp"
#include "build/wheel_asked.hpp"

// Wheels laced here: hub, rim and spokes are parts of their own. Tensions need the rim's printed
// limit; without it there is a question and no target.

namespace rollwright::build {
namespace {

// Spokes are taken from the drawer up to 1 mm shorter and 0.5 mm longer than computed
// ([spoke-stock]).
constexpr Length kShorter = 1.0 * mm;
constexpr Length kLonger = 0.5 * mm;

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
