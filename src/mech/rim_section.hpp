#pragma once

#include "base/result.hpp"
#include "units/quantity.hpp"

namespace rollwright::mech {

/// A rim as an elastic ring. Makers seldom print the three stiffnesses; `rim_of_tones` finds two of
/// them from the ring of a bare rim hung on a thread.
struct RimSection {
  Length radius;               // of the shear-centre line, 75 to 700 mm
  double bending_radial = 0;   // E I against egg shape, N m², 1 to 100 000
  double bending_lateral = 0;  // E I against potato-crisp shape, N m², 1 to 100 000
  double torsion = 0;          // G J, N m², 0.1 to 100 000
  Force rigidity;              // E times the area of the section, 0.1 to 100 MN
  double warping = 0;          // E I_w, N m⁴, 0 to 100; 0 for hollow rims
};

/// Errors: kOutOfRange when a field leaves its range.
[[nodiscard]] Result<RimSection> checked(const RimSection& rim);

/// How hard the bare rim resists the sideways shape cos(waves * angle), per shape's height.
///
/// Method:    bending and torsion as springs in series, K = 1 / (1/K_bend + 1/K_tor), with
///            K_bend = pi EI (n²-1)² / R³ and K_tor = pi (GJ + EI_w n²/R²) n² (n²-1)² / R³.
/// Source:    [wheel-thesis]; the power of R in K_tor derived anew (a draft prints it without).
/// Accuracy:  exact for a thin even ring. Ignores: joint, nipple holes, change of section.
/// Result:    N/mm; 0 for 0 and 1 waves, which only move the rim. `waves` 0 to 200.
[[nodiscard]] double rim_lateral_stiffness(const RimSection& rim, int waves);

/// Two tones of a bare hanging rim struck sideways, and what they tell.
struct RimTones {
  Mass mass;        // 0.1 to 5 kg
  Length radius;    // 75 to 400 mm
  Frequency two;    // of the shape with two waves, 5 to 2000 Hz
  Frequency three;  // with three waves; 2.67 to 4 times the first
};
struct RimLateral {
  double bending_lateral = 0;  // N m²
  double torsion = 0;          // N m²
};

/// Method:    mu = GJ/EI = (16 - r²) / (9 r² - 64), r = f3/f2; GJ = (4 mu + 1)/18 pi R³ m f2².
/// Source:    [wheel-thesis]. Accuracy: 1 % in a tone moves EI_lat by about 15 %, GJ by 3.2 %.
/// Ignores:   the valve hole, the joint, warping.
/// Errors:    kOutOfRange; kContradiction when no rim rings in this ratio.
[[nodiscard]] Result<RimLateral> rim_of_tones(const RimTones& tones);

/// Tones of a bare hanging rim with `waves` 2 to 20 around it. Source and ignores: as above;
/// radial: f = n (n²-1) / sqrt(n²+1) sqrt(EI_rad / (2 pi R³ m)). Errors: kOutOfRange.
[[nodiscard]] Result<Frequency> rim_radial_tone(const RimSection& rim, Mass mass, int waves);
[[nodiscard]] Result<Frequency> rim_lateral_tone(const RimSection& rim, Mass mass, int waves);

/// How much a bare rim gives, full diameter, when squeezed across it by `load` (0 to 10 kN).
/// Method: thin ring, P R³ / (4 EI_rad) (pi - 8/pi). Source: [ring]. Errors: kOutOfRange.
[[nodiscard]] Result<Length> rim_squeeze(const RimSection& rim, Force load);

/// Inward pull per length of rim, times R³ / EI_lat, that buckles a ring whose spokes all lie in
/// its plane and meet in one point; `dead_load` is for forces that keep their direction instead.
/// Source: [ring]. `torsion_over_bending` (GJ / EI_lat) above 0.
[[nodiscard]] double flat_ring_buckling(double torsion_over_bending, bool dead_load);

}  // namespace rollwright::mech
