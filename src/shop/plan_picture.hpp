#pragma once

#include <vector>

#include "shop/agreed_input.hpp"
#include "shop/plan_views.hpp"
#include "shop/proposal.hpp"

namespace rollwright::shop {

/// A plan to be drawn.
struct Pictured {
  const AgreedInput& agreed;
  const State& state;
  const plan::ShopPlan& plan;          // bars
  const plan::ShopPlan& days;          // what becomes of the orders
  const std::vector<int>& stands;      // per task
  std::vector<bool> pinned;            // per task: put there by hand
  bool as_agreed = false;              // what has no place in it is shown where it was agreed
};
[[nodiscard]] PlanView picture_of(const Pictured& pictured);

/// Stands of the agreed plan and of a proposal, per task; work keeps its stand where it can.
[[nodiscard]] std::vector<int> stands_of(const AgreedInput& agreed, const State& state,
                                         const plan::ShopPlan& plan);
[[nodiscard]] std::vector<int> stands_of(const Proposal& proposal);

/// Per task: put there by hand, in the agreed plan or by the proposal.
[[nodiscard]] std::vector<bool> pinned_tasks(const AgreedInput& agreed, const State& state);

}  // namespace rollwright::shop
