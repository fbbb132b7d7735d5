#pragma once

#include <cstddef>
#include <vector>

namespace rollwright::mech {

// Plain arithmetic over runs of numbers, in a fixed order and in four chains at once, which keeps
// the adders busy: searches spend most of their time here.

/// Sum of products.
[[nodiscard]] double dot(const double* a, const double* b, std::size_t count);
/// Of at least one row.
[[nodiscard]] double mean_of(const std::vector<double>& rows);

struct Range {
  double low = 0;
  double high = 0;
};
/// Least and greatest of at least one row.
[[nodiscard]] Range range_of(const double* rows, std::size_t count);

}  // namespace rollwright::mech
