#pragma once

#include <optional>

#include "base/result.hpp"
#include "mech/wav.hpp"
#include "units/quantity.hpp"

namespace rollwright::mech {

/// What was plucked, as far as the search needs to know. The narrower the range, the surer the
/// octave: pluck_of_spoke and pluck_of_belt (mech/spoke_pitch_reading.hpp, mech/belt_reading.hpp)
/// know sensible ones.
struct PluckAsked {
  Frequency least = 150 * hertz;  // of the lowest pitch, 15 to 2000 Hz
  Frequency most = 750 * hertz;  // at least 1.2 times that, up to 2500 Hz
  double most_stiffness = 0.06;   // B of partial k at k F sqrt(1 + B k^2), 0 to 0.1; belts 0.002
};

/// The pitch of a pluck.
struct PluckPitch {
  Frequency pitch;                  // lowest partial of the loudest string
  Frequency uncertainty;            // standard, of that number as a pitch of this recording
  std::optional<Frequency> beside;  // a second string that sounds too, within 12 % of the pitch
  bool lowest_heard = true;         // false: too weak, so it follows from other partials
  int partials = 0;                 // that were heard
  double over_noise_db = 0;         // of the loudest partial
  double from_s = 0, to_s = 0;      // the piece of the recording that was read
  bool overdriven = false;          // more than 1 in 1000 samples at full scale
};

/// Lowest pitch of a plucked spoke or belt in a recording.
///
/// Method:    the loudest rise is the onset; the piece after it until the tone has sunk into the
///            noise, at most 0.8 s. Tones that stand out of its noise, a comb of a stiff string
///            over them, then the place of the lowest partial by the best amplitude under a Hann window.
///            Uncertainty: what the noise does to that place, together with how far the two halves
///            of the piece differ (beating, gliding) and, when the lowest partial is not heard,
///            0.6 % for carrying it over from the others.
/// Source:    [pluck-pitch] in docs/sources.md; measured by `./measure pluck`.
/// Accuracy:  of 720 invented plucks, with noise, hum, other spokes and beating: 0.14 % of the
///            frequency at worst where the lowest partial is heard, 0.8 % where it is not (twice
///            that in tension); 3 in 100 were refused. Recordings of real wheels are still wanted.
/// Ignores:   the room. Of two strings that beat, the louder is the pitch and the other is told
///            when it stands apart; closer than about 3 Hz the two are one pitch between them.
/// Errors:    kOutOfRange for the range asked; kRefused with what to do for silence, for a sound
///            that is no pluck, that is too short, without a clear pitch, or with two pitches as
///            likely as each other.
[[nodiscard]] Result<PluckPitch> pluck_pitch(const Sound& sound, const PluckAsked& asked = {});

}  // namespace rollwright::mech
