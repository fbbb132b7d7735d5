#pragma once

#include <span>
#include <vector>

#include "mech/wav.hpp"

namespace rollwright::mech {

/// The recording low-passed at `top_hz` and thinned to about three samples for each wave at the
/// top, with its slow drift taken out. Samples keep their scale.
///
/// Method:    windowed sinc (Blackman), every n-th sample kept; a running mean over 1 / `least_hz`
///            is taken away.
/// Accuracy:  within 0.2 dB up to `top_hz`; 60 dB down beyond the new half rate.
[[nodiscard]] Sound thinned(const Sound& sound, double least_hz, double top_hz);

/// The piece under a raised-cosine (Hann) window, scaled so that tone_amplitude of a steady tone is
/// its amplitude.
[[nodiscard]] std::vector<double> hann_windowed(std::span<const double> samples);

/// Amplitude of the tone `hz` in a windowed piece (Goertzel's recursion).
[[nodiscard]] double tone_amplitude(std::span<const double> windowed, double rate_hz, double hz);

/// One tone that stands out of the noise.
struct TonePeak {
  double hz = 0;
  double amplitude = 0;
  double over_noise = 0;  // amplitude over the noise's root mean square in one bin around it
};

/// Tones from `least_hz` to `most_hz` that stand out of the noise around them, loudest first.
///
/// Method:    amplitudes every half bin; the noise at a place is the median around it over 1.18
///            (noise alone is Rayleigh distributed). A peak counts from 5.5 times the noise on;
///            what lies in the skirt of a louder peak does not. Places by the best amplitude near the
///            bin.
[[nodiscard]] std::vector<TonePeak> tone_peaks(std::span<const double> samples, double rate_hz,
                                               double least_hz, double most_hz);

/// Where near `hz` (within `reach_hz`) the amplitude is largest, by golden section.
[[nodiscard]] double loudest_near(std::span<const double> windowed, double rate_hz, double hz,
                                  double reach_hz);

}  // namespace rollwright::mech
