#include "supply/kit_odds.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/result.hpp"
#include "trade/spread.hpp"

namespace rollwright::supply {
namespace {

double below_normal(double z) { return 0.5 * std::erfc(-z / std::numbers::sqrt2); }

double group_there(const LateTogether& group) {
  ROLLWRIGHT_PROMISE(0 <= group.correlation && group.correlation <= 0.95);
  double product = 1;
  for (const double p : group.there) {
    ROLLWRIGHT_PROMISE(0 <= p && p <= 1);
    product *= p;
  }
  if (group.correlation == 0 || group.there.size() < 2 || product == 0) return product;
  std::vector<double> scores;
  for (const double p : group.there) {
    if (p < 1) scores.push_back(trade::inverse_normal(std::clamp(p, 1e-12, 1 - 1e-12)));
  }
  constexpr double kReach = 8;
  constexpr double kStep = 0.05;
  const double shared = std::sqrt(group.correlation);
  const double own = std::sqrt(1 - group.correlation);
  double sum = 0;
  for (double z = -kReach; z <= kReach; z += kStep) {
    double all = std::exp(-z * z / 2);
    for (const double score : scores) all *= below_normal((score - shared * z) / own);
    sum += all;
  }
  return sum * kStep / std::sqrt(2 * std::numbers::pi);
}

}  // namespace

double all_there(const std::vector<LateTogether>& groups) {
  double all = 1;
  for (const LateTogether& group : groups) all *= group_there(group);
  return all;
}

double each_needs(double kit, const std::vector<int>& counts,
                  const std::vector<double>& correlations) {
  ROLLWRIGHT_PROMISE(0 < kit && kit < 1 && counts.size() == correlations.size());
  const auto kit_with = [&](double each) {
    std::vector<LateTogether> groups;
    for (std::size_t i = 0; i < counts.size(); ++i) {
      groups.push_back({.correlation = correlations[i],
                        .there = std::vector<double>(static_cast<std::size_t>(counts[i]), each)});
    }
    return all_there(groups);
  };
  double low = kit;  // no line may be there less often than the kit
  double high = 1;
  for (int step = 0; step < 50; ++step) {
    const double middle = (low + high) / 2;
    (kit_with(middle) < kit ? low : high) = middle;
  }
  return high;
}

}  // namespace rollwright::supply
