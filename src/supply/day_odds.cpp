#include "supply/day_odds.hpp"

#include <algorithm>
#include <cmath>

#include "base/result.hpp"

namespace rollwright::supply {
namespace {

std::vector<double> daily(const DayOdds& odds) {
  std::vector<double> day(odds.by.size());
  for (std::size_t k = 0; k < day.size(); ++k) {
    day[k] = odds.by[k] - (k == 0 ? 0 : odds.by[k - 1]);
  }
  return day;
}

/// The day number at probability p, with the days between whole numbers filled evenly.
double between_days(const DayOdds& odds, double p) {
  const auto reached = std::lower_bound(odds.by.begin(), odds.by.end(), p);
  if (reached == odds.by.end()) return kOddsDays + 1;
  const auto k = static_cast<double>(reached - odds.by.begin());
  if (k == 0) return 0;
  const double before = *(reached - 1);
  return k - 1 + (p - before) / (*reached - before);
}

}  // namespace

double within(const DayOdds& odds, int days) {
  if (days < 0 || odds.by.empty()) return 0;
  return odds.by[std::min(static_cast<std::size_t>(days), odds.by.size() - 1)];
}

int days_for(const DayOdds& odds, double p) {
  ROLLWRIGHT_PROMISE(0 < p && p < 1);
  const auto reached = std::lower_bound(odds.by.begin(), odds.by.end(), p);
  if (reached == odds.by.end()) return kOddsDays + 1;
  return static_cast<int>(reached - odds.by.begin());
}

DayOdds given_not_yet(const DayOdds& odds, int gone) {
  if (odds.by.empty()) return odds;
  if (gone < 0) return moved(odds, -gone);
  const double passed = within(odds, gone);
  // Beyond the table, or where rounding has eaten what is left, nothing can be said but "later".
  constexpr double kLeastLeft = 1e-12;
  if (1 - passed < kLeastLeft) return {};
  DayOdds left;
  for (std::size_t k = static_cast<std::size_t>(gone); k < odds.by.size(); ++k) {
    left.by.push_back((odds.by[k] - passed) / (1 - passed));
  }
  return left;
}

DayOdds moved(const DayOdds& odds, int days) {
  if (days == 0) return odds;
  DayOdds later;
  for (int k = 0; k <= kOddsDays; ++k) later.by.push_back(k == 0 ? 0 : within(odds, k - days));
  return later;
}

DayOdds then(const DayOdds& first, const DayOdds& second) {
  const std::vector<double> one = daily(first);
  DayOdds sum{.by = std::vector<double>(kOddsDays + 1, 0.0)};
  if (first.by.empty() || second.by.empty()) return {};
  for (std::size_t i = 0; i < one.size() && i < sum.by.size(); ++i) {
    if (one[i] <= 0) continue;
    for (std::size_t k = i; k < sum.by.size(); ++k) {
      sum.by[k] += one[i] * within(second, static_cast<int>(k - i));
    }
  }
  return sum;
}

DayOdds mixed(const DayOdds& one, const DayOdds& other, double share) {
  ROLLWRIGHT_PROMISE(0 <= share && share <= 1);
  DayOdds both{.by = std::vector<double>(std::max(one.by.size(), other.by.size()), 0.0)};
  for (std::size_t k = 0; k < both.by.size(); ++k) {
    const int days = static_cast<int>(k);
    both.by[k] = share * within(one, days) + (1 - share) * within(other, days);
  }
  return both;
}

trade::Spread spread_like(const DayOdds& odds) {
  constexpr double kOneSigma = 0.841344746068543;   // of the standard normal, at 1
  constexpr double kTwoSigma = 0.977249868051821;   // at 2
  constexpr double kMostSigma = 2;                  // of a spread
  const double middle = between_days(odds, 0.5);
  const double one = between_days(odds, kOneSigma) - middle;
  const double two = between_days(odds, kTwoSigma) - between_days(odds, kOneSigma);
  if (middle > 0 && one > 0 && two > one) {
    const double sigma = std::min(kMostSigma, std::log(two / one));
    const double median = one / (std::exp(sigma) - 1);
    if (middle >= median) return {.least = middle - median, .median = median, .sigma = sigma,
                                  .basis = ""};
  }
  const double high = between_days(odds, 0.9);
  if (middle <= 0) return {.least = 0, .median = 0, .sigma = 0, .basis = ""};
  const double sigma = std::log(high / middle) / trade::inverse_normal(0.9);
  return {.least = 0, .median = middle, .sigma = std::min(kMostSigma, sigma), .basis = ""};
}

}  // namespace rollwright::supply
