#include "mech/rows.hpp"

#include <algorithm>
#include <numeric>

namespace rollwright::mech {
namespace {

constexpr std::size_t kChains = 4;

}  // namespace

double mean_of(const std::vector<double>& rows) {
  return std::accumulate(rows.begin(), rows.end(), 0.0) / static_cast<double>(rows.size());
}

double dot(const double* a, const double* b, std::size_t count) {
  double sums[kChains] = {0, 0, 0, 0};
  std::size_t i = 0;
  for (; i + kChains <= count; i += kChains) {
    for (std::size_t lane = 0; lane < kChains; ++lane) sums[lane] += a[i + lane] * b[i + lane];
  }
  for (; i < count; ++i) sums[0] += a[i] * b[i];
  return (sums[0] + sums[1]) + (sums[2] + sums[3]);
}

Range range_of(const double* rows, std::size_t count) {
  double low[kChains], high[kChains];
  for (std::size_t lane = 0; lane < kChains; ++lane) low[lane] = high[lane] = rows[0];
  std::size_t i = 0;
  for (; i + kChains <= count; i += kChains) {
    for (std::size_t lane = 0; lane < kChains; ++lane) {
      low[lane] = std::min(low[lane], rows[i + lane]);
      high[lane] = std::max(high[lane], rows[i + lane]);
    }
  }
  for (; i < count; ++i) {
    low[0] = std::min(low[0], rows[i]);
    high[0] = std::max(high[0], rows[i]);
  }
  return {std::min(std::min(low[0], low[1]), std::min(low[2], low[3])),
          std::max(std::max(high[0], high[1]), std::max(high[2], high[3]))};
}

}  // namespace rollwright::mech
