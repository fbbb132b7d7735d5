#pragma once

#include <map>
#include <set>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "trade/trade.hpp"

namespace rollwright::build {

/// One operation that applies to a bike, with the operations that must be done before it.
struct ApplicableStep {
  const trade::Operation* operation = nullptr;  // in the trade's list, not owned
  /// Operations of this bike that lead to it, directly or only over operations that do not apply;
  /// in the trade's order.
  std::vector<std::string> after;
  int hands = 1;  // people it takes at once, of this bike
};

/// Longest chain of steps that wait for each other, in hands-on minutes: how long the bike takes
/// with enough people and stands. Each figure is the longest for its own minutes.
struct LongestChain {
  double low = 0;
  double middle = 0;
  double high = 0;
};

struct ApplicableOperations {
  /// In a working order: everything a step waits for stands before it; work stays in one area as
  /// long as it can, and goes on to the area that the trade's list mentions first.
  std::vector<ApplicableStep> steps;
  double minutes_low = 0;  // hands-on, summed
  double minutes_high = 0;
  LongestChain chain;
  std::map<std::string, double> middle_minutes_by_area;
};

/// Those of the operations (the trade's, of building or of care) that a bike of these traits needs.
/// Method: predecessors that do not apply are replaced by their own, again and again (bridging).
/// Errors: kNotFound when an operation names a predecessor that is not in the list;
/// kContradiction when operations wait for each other.
[[nodiscard]] Result<ApplicableOperations> applicable_operations(
    const std::vector<trade::Operation>& operations, const std::set<std::string>& traits);

}  // namespace rollwright::build
