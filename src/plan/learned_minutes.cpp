#include "plan/learned_minutes.hpp"

#include <algorithm>
#include <cmath>

#include <boost/math/distributions/students_t.hpp>

#include "base/result.hpp"

namespace rollwright::plan {
namespace {

constexpr double kMeanWorth = 4;      // times taken
constexpr int kVarianceWorth = 6;     // degrees of freedom
constexpr double kNormal90 = 1.2815515655446004;
constexpr double kFarOff = 3;         // sigmas of the range
constexpr double kLeastSigma = 0.05;  // times taken are never all alike

double student_90(int degrees) {
  return boost::math::quantile(boost::math::students_t(degrees), 0.9);
}

/// 90 % of Student's t. Asked for with every operation of every order, and always of the same few.
double t_90(int degrees) {
  static const std::vector<double> kKnown = [] {
    std::vector<double> known = {0};  // of no degree there is none
    while (known.size() < 256) known.push_back(student_90(static_cast<int>(known.size())));
    return known;
  }();
  const auto place = static_cast<std::size_t>(degrees);
  return place < kKnown.size() ? kKnown[place] : student_90(degrees);
}

/// 10 to 90 % of the next logarithm around its middle, in units of the root of the mean square.
double reach(double mean_worth, int degrees) {
  return t_90(degrees) * std::sqrt((mean_worth + 1) / mean_worth);
}

/// Median of the times, the range's middle counted as often as the prior is worth.
double usual_log(double middle, const std::vector<double>& taken) {
  std::vector<double> logs(static_cast<std::size_t>(kMeanWorth), middle);
  for (const double minutes : taken) logs.push_back(std::log(minutes));
  const auto half = logs.begin() + static_cast<std::ptrdiff_t>(logs.size() / 2);
  std::ranges::nth_element(logs, half);
  return *half;
}

}  // namespace

LearnedMinutes learned_minutes(const MinutesRange& range, const std::vector<double>& taken) {
  ROLLWRIGHT_PROMISE(0 < range.low && range.low <= range.high);
  const double middle = (std::log(range.low) + std::log(range.high)) / 2;
  double sigma = std::log(range.high / range.low) / 2 / kNormal90;
  if (!taken.empty()) sigma = std::max(sigma, kLeastSigma);
  // The root mean square with which the prior alone gives back the range.
  const double own = sigma * kNormal90 / reach(kMeanWorth, kVarianceWorth);

  LearnedMinutes learned{.times = static_cast<int>(taken.size())};
  for (const double minutes : taken) ROLLWRIGHT_PROMISE(minutes > 0);
  const double usual = usual_log(middle, taken);
  double sum = 0;
  std::vector<double> logs;
  for (const double minutes : taken) {
    const double off = std::log(minutes) - usual;
    if (std::abs(off) > kFarOff * sigma) ++learned.astray;
    logs.push_back(usual + std::clamp(off, -kFarOff * sigma, kFarOff * sigma));
    sum += logs.back();
  }
  const double n = static_cast<double>(logs.size());
  const double mean = n > 0 ? sum / n : middle;
  double squares = kVarianceWorth * own * own;
  for (const double log : logs) squares += (log - mean) * (log - mean);
  squares += kMeanWorth * n / (kMeanWorth + n) * (mean - middle) * (mean - middle);

  const double worth = kMeanWorth + n;
  const int degrees = kVarianceWorth + static_cast<int>(logs.size());
  const double next = (kMeanWorth * middle + n * mean) / worth;
  const double half = reach(worth, degrees) * std::sqrt(squares / degrees);
  learned.median = std::exp(next);
  learned.sigma = half / kNormal90;
  learned.low = std::exp(next - half);
  learned.high = std::exp(next + half);
  return learned;
}

}  // namespace rollwright::plan
