#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"

namespace rollwright::mech {

/// A recording of one channel.
struct Sound {
  double rate_hz = 0;           // samples in a second, 8000 to 192000
  std::vector<double> samples;  // full scale is -1 to 1
  double clipped_share = 0;     // of the samples that lie at full scale; over 0.001 is overdriven
};

/// The longest recording taken, in seconds, and the largest file, in bytes.
inline constexpr double kMostSoundSeconds = 30;
inline constexpr std::size_t kMostWavBytes = 64 * 1024 * 1024;

/// Reads a WAV file: whole numbers of 8, 16, 24 or 32 bits or floating point of 32 or 64, one
/// channel or two, 8000 to 192000 samples a second. Of two channels the louder is kept, so that two
/// microphones cannot cancel each other.
///
/// Method:    chunks of the RIFF container in order; unknown ones are passed over.
/// Source:    [wav] in docs/sources.md.
/// Accuracy:  exact: each sample is the number in the file over full scale.
/// Ignores:   everything in the file but its format and its sound (titles, cue points).
/// Errors:    kBadInput naming what is wrong (not a WAV, cut short, packed sound, not a number);
///            kOutOfRange for rate and channels; kTooLarge over 30 s or 64 MiB. `file` names the
///            file in the refusal. Any bytes at all end in a sound or a refusal.
[[nodiscard]] Result<Sound> read_wav(std::string_view bytes, const std::string& file = {});

/// The recording as a WAV file of 16 bits, for tests, measurements and keeping what was heard.
/// Samples beyond full scale are cut to it. Errors: kOutOfRange for a rate or a length that
/// read_wav would refuse.
[[nodiscard]] Result<std::string> write_wav(const Sound& sound);

}  // namespace rollwright::mech
