#pragma once

#include "base/result.hpp"
#include "mech/stress.hpp"
#include "units/quantity.hpp"

namespace rollwright::mech {

/// How the ends of a plucked spoke are held. Real spokes lie between pinned and clamped.
enum class SpokeEndsHeld {
  kString,   // no bending stiffness at all
  kPinned,   // stiff, ends free to turn
  kClamped,  // stiff, ends held fast
};

/// The part of a spoke that sounds: from where it is plucked free (the crossing, if it touches) to
/// the nipple. For a butted spoke the thin middle.
struct SoundingSpoke {
  Length length;                        // 50 to 400 mm
  Length diameter;                      // round wire, 0.8 to 4 mm
  double density_kg_per_m3 = 7850;      // 1000 to 20000; steel 7850
  Pressure modulus = 200 * gigapascal;  // 50 to 250 GPa; steel 200
  SpokeEndsHeld ends = SpokeEndsHeld::kClamped;
};

/// Lowest pitch of a spoke under `tension` (20 to 5000 N).
///
/// Method:    string: f = sqrt(T / mu) / 2 L. Pinned: times sqrt(1 + pi^2 E I / (T L^2)). Clamped:
///            first root of the frequency equation of a beam under tension, by bisection.
/// Source:    [spoke-pitch] in docs/sources.md.
/// Accuracy:  0.001 Hz against the equation. A real spoke lies between pinned and clamped, so one
///            reading of a tension meter per wheel should set the scale.
/// Ignores:   butting, the crossing spoke, the mass of the nipple.
/// Errors:    kOutOfRange.
[[nodiscard]] Result<Frequency> spoke_pitch(const SoundingSpoke& spoke, Force tension);

/// Tension of a spoke that sounds at `pitch`; the inverse of spoke_pitch.
///
/// Reading a clamped spoke with the string formula claims 17 to 36 % too much tension.
/// Errors:    kOutOfRange, also when no tension from 20 to 5000 N gives that pitch.
[[nodiscard]] Result<Force> spoke_tension(const SoundingSpoke& spoke, Frequency pitch);

}  // namespace rollwright::mech
