#pragma once

#include <array>
#include <string_view>
#include <vector>

#include "plan/workshop.hpp"

namespace rollwright::plan {

/// What the priority rules look at, per order.
struct OrderFacts {
  std::vector<std::vector<int>> tasks;  // open, not frozen, longest chain first
  std::vector<double> due;              // minute; kNever when nothing was promised
  std::vector<double> kit;              // minute from which all parts are in hand
  std::vector<double> work;             // hands-on minutes left
  std::vector<double> chain;            // longest chain left
  std::vector<double> previous;         // earliest start in the last plan
};

/// `input` must have no problems.
[[nodiscard]] OrderFacts facts_of(const PlanInput& input, double arrival_quantile);

/// A priority rule: the turn in which orders are laid out.
struct Rule {
  std::string_view words;
  std::vector<int> (*sequence)(const PlanInput&, const OrderFacts&);
};

inline constexpr std::size_t kRules = 6;
extern const std::array<Rule, kRules> kRuleTable;

/// Promised orders by due day, the heavier first; then the others by the day their parts are there.
[[nodiscard]] std::vector<int> by_promise(const PlanInput& input, const OrderFacts& facts);

}  // namespace rollwright::plan
