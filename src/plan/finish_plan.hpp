#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "plan/order_facts.hpp"
#include "plan/place_work.hpp"
#include "plan/shop_plan.hpp"
#include "plan/workshop.hpp"

namespace rollwright::plan {

/// What a schedule means for one order.
struct OrderOutcome {
  bool open = false;         // something is left to do
  std::optional<int> ready;  // minute; none when something found no room
  int days_late = 0;
  int moved = 0;  // tasks with another person or day than in the last plan
};

[[nodiscard]] OrderOutcome outcome_of(const PlanInput& input, const std::vector<int>& open_tasks,
                                      const Order& order, const std::vector<Spot>& spots);

/// Minutes at work that each person is given in each week (seven days from `first_day` on), beside
/// what they have from now on. A task counts in the week of its start, or of now if it runs; for
/// those who lend a hand as well.
class WeeklyLoad {
 public:
  explicit WeeklyLoad(const Shopfloor& floor);
  void add(int task, const Spot& spot);
  void take_away(int task, const Spot& spot);
  /// Hours of work that would have to change hands for everybody to be given the same share of
  /// their week, summed over weeks.
  [[nodiscard]] double uneven_hours() const;

 private:
  void change(int task, const Spot& spot, int sign);

  const Shopfloor* floor_;
  std::size_t people_;
  std::vector<int> at_work_;  // by week, then person
  std::vector<int> given_;
};

[[nodiscard]] PlanScore score_of(const PlanInput& input, const OrderFacts& facts,
                                 const std::vector<OrderOutcome>& outcomes,
                                 const WeeklyLoad& load);

/// The plan with its orders and score, without what holds the orders.
[[nodiscard]] ShopPlan plan_from(const WorkPlacer& placer, const Shopfloor& floor,
                                 const OrderFacts& facts);

/// Adds what holds each order. `placer`: as the plan was made from.
void add_chains(ShopPlan& plan, const WorkPlacer& placer, const Shopfloor& floor);

}  // namespace rollwright::plan
