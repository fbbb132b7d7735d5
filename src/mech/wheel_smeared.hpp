#pragma once

#include <vector>

#include "base/result.hpp"
#include "mech/rim_section.hpp"
#include "mech/wheel_lacing.hpp"

namespace rollwright::mech {

// Closed forms for a wheel whose spokes are spread evenly along the rim: quick figures, and a
// second opinion for mech/wheel_model.hpp.

/// What the sideways stretch of bent-elbow spokes is taken at, as a share of theory. Tests on such
/// wheels found about 0.65; straight-pull spokes reach 1. Range 0.65 to 1. Source: [wheel-thesis].
inline constexpr double kElbowFactor = 0.8;

/// A rim on an even bed of spokes.
struct SmearedWheel {
  RimSection rim;
  double lateral = 0;        // N/m² of rim: stretch of the spokes and their tension
  double lateral_slack = 0;  // the same without tension
  double radial = 0;
  double tangential = 0;
  double line_tension = 0;   // N/m, inward
  double straightening = 0;  // 1/m: sideways stiffness from tension over inward pull
  double mean_tension = 0;   // N, of all spokes
  double pull_per_tension = 0;  // 1/m: line tension over mean tension
};

/// Method:    sums E A c² / l + T (1 - c²) / l over the spokes, per length of rim; `elbow_factor`
///            (0.3 to 1) scales the sideways stretch, 1 is theory.
/// Source:    [wheel-thesis]. Accuracy: stiffness 5 % against single spokes from 28 up.
/// Ignores:   single spokes, coupling of sideways and radial motion in dished wheels.
/// Errors:    kOutOfRange for the rim, the factor, fewer than 8 or more than 144 spokes.
[[nodiscard]] Result<SmearedWheel> smeared(const RimSection& rim,
                                           const std::vector<WheelSpoke>& spokes,
                                           double elbow_factor = kElbowFactor);

/// Resistance of the wheel to the sideways shape cos(waves * angle), N/mm. `waves` 0 to 200.
[[nodiscard]] double mode_stiffness(const SmearedWheel& wheel, int waves);
/// Sideways stiffness at a point, N/mm: the modes to 200 as springs in series.
[[nodiscard]] double lateral_stiffness(const SmearedWheel& wheel);
/// The same with a rim that does not bend: two thirds of pi R k.
[[nodiscard]] double lateral_stiffness_of_rigid_rim(const SmearedWheel& wheel);

enum class RimLength { kFixed, kElastic };
/// Radial stiffness at a point, N/mm: closed form of the ring on an elastic bed; with kElastic also
/// the rim's change of length.
[[nodiscard]] double radial_stiffness(const SmearedWheel& wheel, RimLength length);
/// The same as the sum over modes to `modes` (1 to 100 000): second opinion.
[[nodiscard]] double radial_stiffness_by_modes(const SmearedWheel& wheel, int modes);
/// The same for a straight beam on an elastic bed. Source: [ring].
[[nodiscard]] double radial_stiffness_of_straight_beam(const SmearedWheel& wheel);
/// Stiffness against turning the rim round the hub, per movement of the rim, N/mm. Too stiff by a
/// quarter in a tight crossed wheel: the rim's compression is ignored, see mech/wheel_model.hpp.
[[nodiscard]] double tangential_stiffness(const SmearedWheel& wheel);

/// Where even spoke tension alone folds the wheel into a potato crisp.
struct WheelBuckling {
  int waves = 2;
  double line_tension = 0;  // N/m
  Force mean_tension;       // of all spokes
  Force advised;            // half of it: above, spokes cannot be kept within 10 % of each other
};

/// Method:    least K_n(no tension) / (pi (n² - R kappa)) over n = 2 to 20.
/// Source:    [wheel-thesis]; wheels kept within 10 % up to half the buckling tension, found.
/// Accuracy:  5 % against single spokes (a test compares). Ignores: the tyre, outside load.
/// The rim maker's and spoke maker's limits come first.
[[nodiscard]] WheelBuckling buckling(const SmearedWheel& wheel);
/// Limits of the line tension, N/m, for rims of little torsion and for stiff spokes.
[[nodiscard]] double buckling_of_limp_rim(const SmearedWheel& wheel);
[[nodiscard]] double buckling_on_stiff_spokes(const SmearedWheel& wheel);

}  // namespace rollwright::mech
