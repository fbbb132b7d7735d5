#pragma once

#include <map>
#include <string>
#include <string_view>

#include "base/result.hpp"

namespace rollwright::plan {

/// What others have published of one instance, in time units; -1 where a list is silent.
struct PublishedBounds {
  int least = -1;  // no schedule is shorter
  int known = -1;  // length of the shortest schedule known
  [[nodiscard]] bool closed() const { return least >= 0 && least == known; }
};

/// Published bounds by the name of the instance (its file's name without the ending).
using BoundsList = std::map<std::string, PublishedBounds, std::less<>>;

/// Reads a CSV list with the columns `instance`, `best_lb` and `best_ub`; other columns are passed
/// over, and one of the two bounds may be missing or a cell empty.
///
/// Errors: those of `parse_csv`; kBadInput for a list without `instance` or without any bound, for
///         an instance that comes twice and for a cell that is not a whole number of 0 or more;
///         kContradiction for a lower bound above the upper. All name file, line and column.
[[nodiscard]] Result<BoundsList> read_bounds(std::string_view text, const std::string& file);

}  // namespace rollwright::plan
