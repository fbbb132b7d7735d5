#include "plan/said_and_kept.hpp"

#include <algorithm>

namespace rollwright::plan {
namespace {

constexpr double kOutside = 0.05;  // on each side

/// Chance of each number kept.
std::vector<double> odds_of_count(const std::vector<Said>& promises) {
  std::vector<double> odds = {1};
  for (const Said& said : promises) {
    const double p = std::clamp(said.chance, 0.0, 1.0);
    odds.push_back(0);
    for (std::size_t k = odds.size() - 1; k > 0; --k) odds[k] = odds[k] * (1 - p) + odds[k - 1] * p;
    odds[0] *= 1 - p;
  }
  return odds;
}

}  // namespace

SaidAndKept said_and_kept(const std::vector<Said>& promises) {
  SaidAndKept sum{.promises = static_cast<int>(promises.size())};
  for (const Said& said : promises) {
    sum.kept += said.kept ? 1 : 0;
    sum.expected += said.chance;
  }
  const std::vector<double> odds = odds_of_count(promises);
  double below = 0;  // chance of fewer than k
  std::size_t k = 0;
  while (k + 1 < odds.size() && below + odds[k] <= kOutside) below += odds[k++];
  sum.least = static_cast<int>(k);
  double above = 0;  // chance of more than k
  for (k = odds.size() - 1; k > 0 && above + odds[k] <= kOutside; --k) above += odds[k];
  sum.most = static_cast<int>(k);
  return sum;
}

}  // namespace rollwright::plan
