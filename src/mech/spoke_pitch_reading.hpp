#pragma once

#include "mech/pitch.hpp"
#include "mech/spoke_pitch.hpp"

namespace rollwright::mech {

/// How the ends of a wheel's spokes are held, from one reading of a tension meter.
struct SpokeEndsFound {
  double held = 0.5;                // 0 pinned to 1 clamped
  double held_uncertainty = 0.289;  // standard; 0.289 is "anywhere between", nothing calibrated
  double factor = 1;                // on the tension, for what no ends explain, 0.5 to 2
  double factor_uncertainty = 0;    // standard, of the factor, relative
};

/// A pitch and how well each number behind it is known (standard uncertainties, all 0 or more).
struct SpokeHeard {
  SoundingSpoke spoke;                // its `ends` are not used
  Frequency pitch;
  Frequency pitch_uncertainty;        // 0 to 100 Hz
  Length length_uncertainty = 1 * mm;       // 0 to 20 mm
  Length diameter_uncertainty = 0.01 * mm;  // 0 to 0.2 mm
};

/// Tension of a spoke with what makes it uncertain.
struct SpokeReading {
  Force tension;
  Force uncertainty;    // standard, all together
  Force from_pitch;     // the shares of it
  Force from_length;
  Force from_diameter;
  Force from_ends;      // how the ends are held, and the calibration
};

/// Tension of a spoke from its pitch, corrected for stiffness and ends.
///
/// Method:    the tension at which a spoke between pinned and clamped sounds so: pinned pitch plus
///            `held` of the way to the clamped one (mech/spoke_pitch.hpp), by bisection; times the
///            factor. Uncertainties by differences, taken as independent.
/// Source:    [spoke-pitch] in docs/sources.md; uncertainties after [gum].
/// Accuracy:  without calibration the ends alone give 3 to 9 %; with it what the meter is good for.
/// Ignores:   as spoke_pitch. Spokes of one wheel, alike in length and gauge, share a calibration.
/// Errors:    kOutOfRange, also when no tension from 20 to 5000 N gives the pitch.
///
/// A wheel is released by a person with a meter they trust; the rim maker's limit comes first.
[[nodiscard]] Result<SpokeReading> spoke_reading(const SpokeHeard& heard,
                                                 const SpokeEndsFound& ends = {});

/// The ends that make the pitch heard agree with one meter reading on the same spoke.
///
/// Method:    `held` from 0 to 1 first; what is left over goes into the factor.
/// Errors:    kOutOfRange for the reading (50 to 3000 N, standard uncertainty to 30 % of it), and
///            when the factor would leave 0.5 to 2: then spoke, length or meter is not what was
///            stated.
struct MeterReading {
  Force tension;
  Force uncertainty;  // standard; many meters 3 to 5 %
};
[[nodiscard]] Result<SpokeEndsFound> spoke_ends_from(const SpokeHeard& heard,
                                                     const MeterReading& meter);

/// Where to look for the pitch of this spoke: as between 200 N pinned and 2000 N clamped.
/// Errors: as spoke_pitch.
[[nodiscard]] Result<PluckAsked> pluck_of_spoke(const SoundingSpoke& spoke);

}  // namespace rollwright::mech
