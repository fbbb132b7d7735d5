#pragma once

#include <memory>
#include <set>
#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "shop/demo_shop.hpp"
#include "shop/plan_desk.hpp"

/// The demo with a plan agreed, for tests. Everything in it is invented.
namespace rollwright::shop {

/// Little search: these claims are about what is said, not about how good the plan is.
inline const SearchBudget kQuick{.placements = 20'000};

/// A demo of its own with a first plan agreed.
inline std::unique_ptr<Shop> planned_demo() {
  auto shop = demo();
  const auto first = shop->plan_desk().propose({}, 0, kQuick);
  EXPECT_TRUE(first) << first.error().full();
  const auto agreed = shop->plan_desk().agree(first->id, "mara");
  EXPECT_TRUE(agreed) << agreed.error().full();
  return shop;
}

/// For looking and proposing only; nothing is agreed on it.
inline Shop& shared_plan() {
  static const std::unique_ptr<Shop> kShop = planned_demo();
  return *kShop;
}

inline std::vector<BarView> bars_of(const PlanView& plan) {
  std::vector<BarView> bars;
  for (const PersonPlan& person : plan.people) {
    bars.insert(bars.end(), person.bars.begin(), person.bars.end());
  }
  return bars;
}

inline std::string person_of(const PlanView& plan, const BarView& bar) {
  for (const PersonPlan& person : plan.people) {
    for (const BarView& each : person.bars) {
      if (each.order == bar.order && each.operation == bar.operation) return person.id;
    }
  }
  return {};
}

/// Order, operation -> person, start.
inline std::set<std::string> places(const PlanView& plan, bool frozen_only) {
  std::set<std::string> all;
  for (const PersonPlan& person : plan.people) {
    for (const BarView& bar : person.bars) {
      if (frozen_only && !bar.frozen) continue;
      all.insert(bar.order + " " + bar.operation + " " + person.id + " " + bar.start);
    }
  }
  return all;
}

/// The first bar that may be moved, on the last day for which there are any: nothing comes after it
/// in its order.
inline BarView movable(const PlanView& plan) {
  BarView last;
  for (const BarView& bar : bars_of(plan)) {
    if (!bar.frozen && bar.start > last.start) last = bar;
  }
  return last;
}

inline ProposalWish move_of(const PlanView& plan, const BarView& bar, const std::string& start) {
  return {.order = bar.order, .operation = bar.operation, .person = person_of(plan, bar),
          .start = start};
}

}  // namespace rollwright::shop
