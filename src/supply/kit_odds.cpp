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

}  // namespace rollwright::supply
