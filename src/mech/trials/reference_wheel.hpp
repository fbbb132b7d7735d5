#pragma once

#include <string>
#include <vector>

#include "mech/wheel_model.hpp"

namespace rollwright::mech::trials {

// Wheels of the check values. Inputs: [wheel-thesis], appendix wheels and acoustic tests (found).
// Theory throughout, so the elbow factor is 1.
inline constexpr double kTheory = 1;
inline constexpr auto kLateral = RimDirection::kLateral;
inline constexpr auto kRadial = RimDirection::kRadial;
inline constexpr auto kTangential = RimDirection::kTangential;
/// The loosest wheel that still keeps a radially laced rim from turning round its hub.
inline constexpr Force kHardlyTight = 0.001 * newton;

/// A rim of 69 GPa and 100 mm².
struct Ring {
  double radius_m, radial, lateral, torsion;  // m and N m²
};
[[nodiscard]] RimSection ring(const Ring& ring);
/// Shallow double-wall rim for 36 spokes, measured by an acoustic test.
[[nodiscard]] RimSection reference_rim();

struct RadialWheel {
  double radius_m = 0;
  double hub_radius_m = 0;
  double half_width_m = 0;
  int spokes = 0;
  Force rigidity;
  Force tension;
};
/// Radial spokes by their direction alone: the wheels of the check values reach beyond what hubs
/// and rims of the trade (mech/spoke_length.hpp) measure.
[[nodiscard]] std::vector<WheelSpoke> radial_spokes(const RadialWheel& wheel);

/// The reference wheel, its flanges `spacing_m` apart.
[[nodiscard]] std::vector<WheelSpoke> reference_spokes(Force tension, double spacing_m = 0.05);
[[nodiscard]] SmearedWheel reference_bed(Force tension, double spacing_m = 0.05);
[[nodiscard]] WheelModel reference_model(Force tension, int waves = 60);

/// A rim on a bed of given K_s = pi R k, N/mm.
[[nodiscard]] SmearedWheel on_bed(const RimSection& rim, double ks_n_per_mm);

/// 32 spokes crossed three times, 1100 N on the right.
[[nodiscard]] LacedWheel dished_rear();

/// A wheel that its source calls hypothetical, and what was derived for it.
struct NamedWheel {
  std::string name;
  RimSection rim;
  RadialWheel spokes;
  double buckling_n = 0;
  int waves = 2;
  double lateral = 0;  // N/mm, without tension
};
[[nodiscard]] std::vector<NamedWheel> illustrative_wheels();

}  // namespace rollwright::mech::trials
