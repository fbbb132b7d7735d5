#include "mech/tension_ratio.hpp"

#include <algorithm>

#include "mech/field_range.hpp"

namespace rollwright::mech {

Result<double> tension_left_over_right(const WheelSpokes& spokes) {
  if (auto error =
          first_outside({{"left spokes", static_cast<double>(spokes.left_count), 1, 72, ""},
                         {"right spokes", static_cast<double>(spokes.right_count), 1, 72, ""}})) {
    return std::unexpected(*error);
  }
  if (!(spokes.left.lateral > 0 && spokes.right.lateral > 0)) {
    return refuse(Code::kOutOfRange,
                  "One flange does not stand outside the nipples; its spokes cannot hold the rim "
                  "sideways. Check both flange offsets and the rim offset.",
                  {.field = "flange offset"});
  }
  return (spokes.right_count * spokes.right.lateral) / (spokes.left_count * spokes.left.lateral);
}

Result<TensionTargets> tension_targets(const WheelSpokes& spokes, const TensionLimits& limits) {
  if (auto error = first_outside({{"rim limit", limits.rim_limit.in(newton), 200, 3000, "N"},
                                  {"spread", limits.spread, 0, 0.5, ""},
                                  {"tighter side", limits.tight_most.value_or(50 * newton).in(newton),
                                   50, 3000, "N"}})) {
    return std::unexpected(*error);
  }
  const auto ratio = tension_left_over_right(spokes);
  if (!ratio) return std::unexpected(ratio.error());
  const Force allowed = limits.rim_limit / (1 + limits.spread);
  const Force tight = std::min(allowed, limits.tight_most.value_or(allowed));
  return TensionTargets{.left = std::min(1.0, *ratio) * tight,
                        .right = std::min(1.0, 1 / *ratio) * tight,
                        .left_over_right = *ratio};
}

Result<Force> load_until_slack(Force slacker_side_tension) {
  if (auto error = first_outside({{"tension", slacker_side_tension.in(newton), 0, 5000, "N"}})) {
    return std::unexpected(*error);
  }
  constexpr double kLostPerLoad = 0.44;  // [wheel-thesis]
  return slacker_side_tension / kLostPerLoad;
}

}  // namespace rollwright::mech
