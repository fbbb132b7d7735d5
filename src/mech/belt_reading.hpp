#pragma once

#include "mech/belt.hpp"
#include "mech/pitch.hpp"

namespace rollwright::mech {

/// Mass per metre of a belt put on the scales: the only value worth having, as printed ones are
/// rare. Errors: kOutOfRange (20 to 400 teeth, 2 to 20 mm pitch, a mass that makes 0.01 to
/// 0.5 kg/m).
[[nodiscard]] Result<LineDensity> belt_mass_per_metre(Mass weighed, int belt_teeth,
                                                      Length pitch = 11 * mm);

/// A belt's pitch with standard uncertainties.
struct BeltHeard {
  BeltSpan span;
  Frequency pitch;
  Frequency pitch_uncertainty;                        // 0 to 20 Hz
  Length span_uncertainty = 1 * mm;                   // 0 to 20 mm
  LineDensity mass_uncertainty = 0.001 * kg_per_metre;  // 0 to 0.1 kg/m
};
struct BeltReading {
  Force tension;
  Force uncertainty;  // standard
};

/// Tension of a belt from the pitch of its free span.
///
/// Method:    belt_tension; relative uncertainties 2 u(f)/f, 2 u(s)/s and u(m)/m as independent.
/// Source:    [belt-tension], [gum] in docs/sources.md. Ignores: as belt_tension.
/// Errors:    kOutOfRange. The belt maker's own frequency or gauge comes first.
[[nodiscard]] Result<BeltReading> belt_reading(const BeltHeard& heard);

/// Where to look for a belt's pitch: 20 to 150 Hz, hardly stiff.
[[nodiscard]] PluckAsked pluck_of_belt();

}  // namespace rollwright::mech
