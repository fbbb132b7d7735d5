#include "mech/pitch_spectrum.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace rollwright::mech {
namespace {

using std::numbers::pi;

constexpr double kLeastOverNoise = 5.5;
constexpr double kMedianOfNoise = 1.1774;  // of a Rayleigh distribution with unit sigma
constexpr std::size_t kMostPeaks = 24;

/// Low pass of unit gain; `edge` is the -6 dB point over the sample rate.
std::vector<double> low_pass(double edge, int half_width) {
  std::vector<double> taps(static_cast<std::size_t>(2 * half_width + 1));
  double sum = 0;
  for (int i = -half_width; i <= half_width; ++i) {
    const double sinc = i == 0 ? 2 * edge : std::sin(2 * pi * edge * i) / (pi * i);
    const double turn = pi * (i + half_width) / half_width;
    const double blackman = 0.42 - 0.5 * std::cos(turn) + 0.08 * std::cos(2 * turn);
    taps[static_cast<std::size_t>(i + half_width)] = sinc * blackman;
    sum += sinc * blackman;
  }
  for (double& tap : taps) tap /= sum;
  return taps;
}

std::vector<double> every_nth(const std::vector<double>& samples, int n) {
  const int half_width = 9 * n;
  const std::vector<double> taps = low_pass(0.42 / n, half_width);
  const auto count = static_cast<int>(samples.size());
  std::vector<double> kept;
  for (int at = 0; at < count; at += n) {
    double sum = 0;
    const int first = std::max(0, at - half_width);
    const int last = std::min(count - 1, at + half_width);
    for (int i = first; i <= last; ++i) {
      const auto tap = static_cast<std::size_t>(i - at + half_width);
      sum += samples[static_cast<std::size_t>(i)] * taps[tap];
    }
    kept.push_back(sum);
  }
  return kept;
}

void take_away_drift(std::vector<double>& samples, std::size_t half_width) {
  std::vector<double> sums(samples.size() + 1, 0);
  for (std::size_t i = 0; i < samples.size(); ++i) sums[i + 1] = sums[i] + samples[i];
  for (std::size_t i = 0; i < samples.size(); ++i) {
    const std::size_t first = i > half_width ? i - half_width : 0;
    const std::size_t last = std::min(samples.size(), i + half_width + 1);
    samples[i] -= (sums[last] - sums[first]) / static_cast<double>(last - first);
  }
}

/// Amplitudes at `first_hz`, `first_hz + step_hz` and so on; eight recursions run side by side.
std::vector<double> amplitudes(std::span<const double> windowed, double rate_hz, double first_hz,
                               double step_hz, std::size_t count) {
  constexpr std::size_t kLanes = 8;
  std::vector<double> found;
  for (std::size_t start = 0; start < count; start += kLanes) {
    std::array<double, kLanes> factor{};
    std::array<double, kLanes> one{};
    std::array<double, kLanes> two{};
    for (std::size_t lane = 0; lane < kLanes; ++lane) {
      const double hz = first_hz + step_hz * static_cast<double>(start + lane);
      factor[lane] = 2 * std::cos(2 * pi * hz / rate_hz);
    }
    for (const double sample : windowed) {
      for (std::size_t lane = 0; lane < kLanes; ++lane) {
        const double next = sample + factor[lane] * one[lane] - two[lane];
        two[lane] = one[lane];
        one[lane] = next;
      }
    }
    for (std::size_t lane = 0; lane < kLanes && start + lane < count; ++lane) {
      const double square =
          one[lane] * one[lane] + two[lane] * two[lane] - factor[lane] * one[lane] * two[lane];
      found.push_back(std::sqrt(std::max(0.0, square)));
    }
  }
  return found;
}

/// Noise at a place: the median of the amplitudes around it.
double noise_around(const std::vector<double>& levels, std::size_t at, std::size_t half_width) {
  const std::size_t first = at > half_width ? at - half_width : 0;
  const std::size_t last = std::min(levels.size(), at + half_width + 1);
  std::vector<double> near(levels.begin() + static_cast<std::ptrdiff_t>(first),
                           levels.begin() + static_cast<std::ptrdiff_t>(last));
  const auto middle = near.begin() + static_cast<std::ptrdiff_t>(near.size() / 2);
  std::nth_element(near.begin(), middle, near.end());
  return *middle / kMedianOfNoise;
}

/// How far the window's skirt reaches: a peak this many bins from a louder one counts only when it
/// is more than this share of it.
bool in_skirt(const TonePeak& peak, const std::vector<TonePeak>& louder, double bin_hz) {
  return std::any_of(louder.begin(), louder.end(), [&](const TonePeak& loud) {
    const double bins = std::fabs(peak.hz - loud.hz) / bin_hz;
    if (bins < 1.5) return true;
    const double share = peak.amplitude / loud.amplitude;
    return bins < 4 ? share < 0.1 : share < 0.6 / (bins * bins * bins);
  });
}

}  // namespace

Sound thinned(const Sound& sound, double least_hz, double top_hz) {
  const int n = std::max(1, static_cast<int>(std::floor(sound.rate_hz / (3 * top_hz))));
  Sound thin{.rate_hz = sound.rate_hz / n,
             .samples = n == 1 ? sound.samples : every_nth(sound.samples, n),
             .clipped_share = sound.clipped_share};
  take_away_drift(thin.samples, static_cast<std::size_t>(thin.rate_hz / least_hz));
  return thin;
}

std::vector<double> hann_windowed(std::span<const double> samples) {
  std::vector<double> windowed(samples.size());
  const auto count = static_cast<double>(samples.size());
  for (std::size_t i = 0; i < samples.size(); ++i) {
    const double hann = 1 - std::cos(2 * pi * (static_cast<double>(i) + 0.5) / count);
    windowed[i] = samples[i] * hann * 2 / count;
  }
  return windowed;
}

double tone_amplitude(std::span<const double> windowed, double rate_hz, double hz) {
  return amplitudes(windowed, rate_hz, hz, 0, 1).front();
}

double loudest_near(std::span<const double> windowed, double rate_hz, double hz, double reach_hz) {
  constexpr double kGolden = 0.6180339887498949;
  double low = hz - reach_hz;
  double high = hz + reach_hz;
  double left = high - kGolden * (high - low);
  double right = low + kGolden * (high - low);
  double at_left = tone_amplitude(windowed, rate_hz, left);
  double at_right = tone_amplitude(windowed, rate_hz, right);
  while (high - low > 1e-4) {
    if (at_left > at_right) {
      high = right;
      right = left;
      at_right = at_left;
      left = high - kGolden * (high - low);
      at_left = tone_amplitude(windowed, rate_hz, left);
    } else {
      low = left;
      left = right;
      at_left = at_right;
      right = low + kGolden * (high - low);
      at_right = tone_amplitude(windowed, rate_hz, right);
    }
  }
  return (low + high) / 2;
}

std::vector<TonePeak> tone_peaks(std::span<const double> samples, double rate_hz, double least_hz,
                                 double most_hz) {
  const std::vector<double> windowed = hann_windowed(samples);
  const double bin_hz = rate_hz / static_cast<double>(samples.size());
  const auto count = static_cast<std::size_t>((most_hz - least_hz) / (bin_hz / 2)) + 1;
  const std::vector<double> levels = amplitudes(windowed, rate_hz, least_hz, bin_hz / 2, count);
  std::vector<TonePeak> peaks;
  for (std::size_t i = 1; i + 1 < levels.size(); ++i) {
    if (levels[i] < levels[i - 1] || levels[i] <= levels[i + 1]) continue;
    const double noise = noise_around(levels, i, 60);
    if (levels[i] < kLeastOverNoise * noise) continue;
    peaks.push_back({least_hz + bin_hz / 2 * static_cast<double>(i), levels[i], levels[i] / noise});
  }
  std::sort(peaks.begin(), peaks.end(),
            [](const TonePeak& a, const TonePeak& b) { return a.amplitude > b.amplitude; });
  std::vector<TonePeak> clear;
  for (TonePeak& peak : peaks) {
    if (clear.size() == kMostPeaks) break;
    if (in_skirt(peak, clear, bin_hz)) continue;
    peak.hz = loudest_near(windowed, rate_hz, peak.hz, bin_hz / 2);
    clear.push_back(peak);
  }
  return clear;
}

}  // namespace rollwright::mech
