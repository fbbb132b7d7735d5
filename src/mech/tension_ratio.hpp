#pragma once

#include <optional>

#include "base/result.hpp"
#include "mech/spoke_length.hpp"
#include "units/quantity.hpp"

namespace rollwright::mech {

/// Mean spoke tension of the left side over that of the right side.
///
/// Method:    the sides balance along the axle: count * tension * sine of the bracing angle is the
///            same left and right. Covers 2:1 lacing and offset rims.
/// Source:    [tension-balance] in docs/sources.md.
/// Accuracy:  exact for a straight wheel; 1 mm in a flange offset of 18 mm moves it by 5 %.
/// Ignores:   rim stiffness against single spokes, friction in the nipples.
/// Errors:    kOutOfRange when both flanges stand on the same side of the nipples, so that no
///            tension at all would hold the rim in the middle.
[[nodiscard]] Result<double> tension_left_over_right(const WheelSpokes& spokes);

/// Mean tensions to build to.
struct TensionTargets {
  Force left;
  Force right;
  double left_over_right = 1;
};

/// What no spoke may pass.
struct TensionLimits {
  Force rim_limit;      // the rim maker's printed limit for one spoke, 200 to 3000 N
  double spread = 0.2;  // allowed share above the side's mean, 0 to 0.5; 0.2 is a workshop limit
  /// Mean of the tighter side that is not asked to be passed, 50 to 3000 N, however much the limit
  /// would allow; nothing: as tight as the limit allows.
  std::optional<Force> tight_most = {};
};

/// Method:   the tighter side's mean is the limit / (1 + spread), so that no spoke within the
///           spread passes the limit, and `tight_most` at the most; the other side follows from the
///           balance.
/// Source:   [tension-balance], [tension-spread]. Errors: kOutOfRange.
///
/// The rim maker's and the hub maker's printed limits come first; wear eye protection.
[[nodiscard]] Result<TensionTargets> tension_targets(const WheelSpokes& spokes,
                                                     const TensionLimits& limits);

/// Load on one point of the rim at which a spoke of this mean tension goes slack under it.
/// Method:   the spoke over the contact loses 0.44 of the load, the larger end of 0.37 to 0.44.
/// Source:   [wheel-thesis], wheels with 32 to 36 spokes. Accuracy: 20 %; other spoke counts more.
/// Errors:   kOutOfRange (tension 0 to 5000 N).
[[nodiscard]] Result<Force> load_until_slack(Force slacker_side_tension);

}  // namespace rollwright::mech
