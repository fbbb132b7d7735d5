#include "mech/pitch_comb.hpp"

#include <algorithm>
#include <cmath>

namespace rollwright::mech {
namespace {

constexpr int kMostPartial = 8;
constexpr int kMostFirstGuess = 5;         // a loud peak is taken for a partial up to this one
constexpr double kCostOfMissing = 0.15;    // of the loudest peak's weight
constexpr double kCostOfOvertone = 0.2;    // that the loudest peak is not the lowest partial
constexpr double kAnotherPitch = 0.04;
constexpr int kStiffnessSteps = 25;
constexpr double kFullOverNoise = 30;      // from here on the noise does not make a peak doubtful

/// What a peak counts. A power under 1 lets quiet partials speak; one well over a half keeps what
/// rings along from outvoting the pluck.
double weight_of(const TonePeak& peak, double loudest) {
  return std::pow(peak.amplitude / loudest, 0.7) * std::min(1.0, peak.over_noise / kFullOverNoise);
}

/// The loudest peak near a place, if there is one.
const TonePeak* peak_near(const std::vector<TonePeak>& peaks, double hz, double reach_hz) {
  for (const TonePeak& peak : peaks) {
    if (std::fabs(peak.hz - hz) <= reach_hz) return &peak;
  }
  return nullptr;
}

Comb comb_over(const std::vector<TonePeak>& peaks, const CombAsked& asked, double lowest_hz,
               double stiffness) {
  Comb comb{.lowest_hz = lowest_hz, .stiffness = stiffness};
  double explained = 0;
  double missing = 0;  // partials not heard since the last one heard
  double gaps = 0;
  for (int k = 1; k <= kMostPartial; ++k) {
    const double hz = partial_hz(lowest_hz, stiffness, k);
    const double reach_hz = asked.bin_hz + 0.006 * hz;
    const TonePeak* peak = peak_near(peaks, hz, reach_hz);
    if (peak == nullptr) {
      ++missing;
      continue;
    }
    const double off = std::fabs(peak->hz - hz) / reach_hz;
    explained += weight_of(*peak, peaks.front().amplitude) * (1 - 0.15 * off * off);
    gaps += missing;
    missing = 0;
    comb.partials.push_back(*peak);
    comb.numbers.push_back(k);
  }
  comb.heard = static_cast<int>(comb.numbers.size());
  if (comb.heard > 0 && comb.numbers.front() == 1) comb.lowest = comb.partials.front();
  comb.score = explained - kCostOfMissing * gaps;
  return comb;
}

/// Least squares of (f / k)^2 = F^2 (1 + B k^2) over the partials heard.
void fit_comb(Comb& comb, double most_stiffness) {
  if (comb.heard < 2) return;
  double n = 0, sx = 0, sy = 0, sxx = 0, sxy = 0;
  for (std::size_t i = 0; i < comb.numbers.size(); ++i) {
    const double k = comb.numbers[i];
    const double x = k * k;
    const double y = std::pow(comb.partials[i].hz / k, 2);
    const double weight = 1 / x;  // low partials tell more of the lowest
    n += weight, sx += weight * x, sy += weight * y, sxx += weight * x * x, sxy += weight * x * y;
  }
  const double slope = (n * sxy - sx * sy) / (n * sxx - sx * sx);
  const double start = (sy - slope * sx) / n;
  if (start > 0) comb.stiffness = std::clamp(slope / start, 0.0, most_stiffness);
  // With the stiffness held to its range, F is the weighted mean that is left.
  double squares = 0, weights = 0;
  for (std::size_t i = 0; i < comb.numbers.size(); ++i) {
    const double k = comb.numbers[i];
    const double weight = 1 / (k * k);
    squares += weight * std::pow(comb.partials[i].hz / k, 2) / (1 + comb.stiffness * k * k);
    weights += weight;
  }
  comb.lowest_hz = std::sqrt(squares / weights * (1 + comb.stiffness));
}

}  // namespace

double partial_hz(double lowest_hz, double stiffness, int number) {
  return lowest_hz * number * std::sqrt((1 + stiffness * number * number) / (1 + stiffness));
}

Combs best_combs(const std::vector<TonePeak>& peaks, const CombAsked& asked) {
  std::vector<Comb> combs;
  Combs found;
  if (peaks.empty()) return found;
  for (int number = 1; number <= kMostFirstGuess; ++number) {
    for (int step = 0; step < kStiffnessSteps; ++step) {
      const double share = static_cast<double>(step) / (kStiffnessSteps - 1);
      const double stiffness = asked.most_stiffness * share * share;
      const double lowest_hz = peaks.front().hz / partial_hz(1, stiffness, number);
      if (!(asked.least_hz <= lowest_hz && lowest_hz <= asked.most_hz)) continue;
      combs.push_back(comb_over(peaks, asked, lowest_hz, stiffness));
      if (number > 1) combs.back().score -= kCostOfOvertone;
    }
  }
  if (combs.empty()) return found;
  std::stable_sort(combs.begin(), combs.end(),
                   [](const Comb& a, const Comb& b) { return a.score > b.score; });
  found.best = combs.front();
  for (const Comb& comb : combs) {
    if (std::fabs(comb.lowest_hz / combs.front().lowest_hz - 1) < kAnotherPitch) continue;
    found.other = comb;
    break;
  }
  fit_comb(*found.best, asked.most_stiffness);
  return found;
}

}  // namespace rollwright::mech
