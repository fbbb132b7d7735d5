#pragma once

#include <vector>

#include "base/result.hpp"
#include "mech/stress.hpp"
#include "units/quantity.hpp"

namespace rollwright::mech {

/// A round piece of a spoke of one thickness.
struct SpokeSection {
  Length length;    // 1 to 400 mm
  Length diameter;  // 0.8 to 4 mm
};

/// A spoke as a chain of springs.
struct SpokeSpring {
  Length length;    // all sections together
  Force rigidity;   // E times the area of the plain spoke that would stretch alike
  Length diameter;  // of that plain spoke
  Pressure modulus;
};

/// The plain spoke that stretches like a butted one.
///
/// Method:    sections are springs in series: length / (E A) adds up.
/// Source:    [spoke-stretch], [wheel-thesis] in docs/sources.md.
/// Accuracy:  exact below yield. Ignores: the elbow, the thread, the tapers between sections.
/// Errors:    kOutOfRange for a section or a modulus (50 to 250 GPa) outside its range, or none.
[[nodiscard]] Result<SpokeSpring> spoke_spring(const std::vector<SpokeSection>& sections,
                                               Pressure modulus);

/// How much the spoke grows under `tension` (0 to 5000 N).
/// Method: Hooke. Errors: kOutOfRange.
[[nodiscard]] Result<Length> spoke_stretch(const SpokeSpring& spoke, Force tension);

/// Force that brings a plain spoke to the stress `limit` (1 to 3000 MPa).
[[nodiscard]] Result<Force> spoke_force_at(Pressure limit, Length diameter);

/// What all spokes together do to a rim.
struct RimLoad {
  int spokes = 32;  // 8 to 144
  Force tension;    // mean, 0 to 5000 N
  Length radius;    // of the rim's centre line, 75 to 400 mm
  Force rigidity;   // E times the section of the rim, 0.1 to 100 MN
};
struct RimShrink {
  Force hoop;     // pressing the rim together along its length
  Length shrink;  // of the radius
};

/// Method:   even pull all round: hoop force n T / 2 pi, shrink = hoop force * radius / (E A).
/// Source:   [spoke-stretch]. Accuracy: exact for many evenly spread spokes. Ignores: the joint.
/// Errors:   kOutOfRange.
[[nodiscard]] Result<RimShrink> rim_shrink(const RimLoad& load);

}  // namespace rollwright::mech
