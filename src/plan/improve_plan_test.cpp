#include "plan/improve_plan.hpp"

#include <algorithm>
#include <cstdio>
#include <numeric>

#include <gtest/gtest.h>

#include "plan/check_shop_plan.hpp"
#include "plan/plan_search.hpp"
#include "plan/workshop_cases.hpp"

namespace rollwright::plan {
namespace {

using namespace cases;

ImprovedPlan improved(const PlanInput& input, const ImproveOptions& options = {},
                      const PlanWatch& watch = {}) {
  auto found = improve_plan(input, options, watch);
  EXPECT_TRUE(found) << found.error().sentence;
  if (!found) return {};
  for (const std::string& wrong :
       check_shop_plan(input, found->plan, options.arrival_confidence)) {
    ADD_FAILURE() << wrong;
  }
  EXPECT_NEAR(found->cost, cost_of(found->plan.score, options.weights), 1e-9);
  return *found;
}

void expect_same_plan(const ShopPlan& a, const ShopPlan& b) {
  ASSERT_EQ(a.tasks.size(), b.tasks.size());
  for (std::size_t task = 0; task < a.tasks.size(); ++task) {
    EXPECT_EQ(a.tasks[task].person, b.tasks[task].person);
    EXPECT_EQ(a.tasks[task].segments, b.tasks[task].segments);
  }
  EXPECT_EQ(a.score, b.score);
}

/// Cost of the best of all turns in which the orders can be laid out, each task at its soonest.
double best_of_all_turns(const PlanInput& input, const PlanWeights& weights) {
  const Shopfloor floor(input, 0.8);
  const OrderFacts facts = facts_of(input, 0.8);
  std::vector<int> turn(input.orders.size());
  std::iota(turn.begin(), turn.end(), 0);
  PlanSearch search(floor, facts, weights, Random(1));
  do {
    search.lay_out(turn);
  } while (std::ranges::next_permutation(turn).found);
  return search.best_cost();
}

TEST(ImprovePlan, EveryRandomPlanPassesTheIndependentCheck) {
  Random random(51);
  for (int round = 0; round < 150; ++round) {
    const PlanInput input = random_workshop(random, {.orders = 5});
    const ImprovedPlan plan = improved(input, {.seed = 3, .placements = 5000});
    EXPECT_LE(plan.cost, plan.first_cost);
    const PlanInput next = with_frozen_start(input, plan.plan, 2);
    improved(next, {.placements = 5000});
  }
}

TEST(ImprovePlan, IsNoWorseThanEveryTurnOfFewOrders) {
  Random random(52);
  int better = 0;
  for (int round = 0; round < 40; ++round) {
    const PlanInput input = random_workshop(random, {.orders = 5, .tasks_per_order = 6});
    const double best = best_of_all_turns(input, {});
    const ImprovedPlan plan = improved(input, {.placements = 30'000});
    EXPECT_LE(plan.cost, best * (1 + 1e-9)) << "round " << round;
    better += plan.cost < best - 1e-9 ? 1 : 0;
  }
  EXPECT_GT(better, 0);  // other patience and places left free find more than turns alone
}

TEST(ImprovePlan, IsTheSameForAnyNumberOfThreads) {
  Random random(53);
  const PlanInput input = random_workshop(random, {.orders = 12});
  const ImprovedPlan one = improved(input, {.placements = 300'000, .threads = 1});
  for (const int threads : {2, 5}) {
    const ImprovedPlan many = improved(input, {.placements = 300'000, .threads = threads});
    expect_same_plan(one.plan, many.plan);
    EXPECT_EQ(one.placements, many.placements);
    EXPECT_EQ(one.cost, many.cost);
  }
}

TEST(ImprovePlan, StopsAndKeepsTheBestWhenTheWatchSaysSo) {
  Random random(54);
  const PlanInput input = random_workshop(random, {.orders = 12});
  std::vector<PlanProgress> seen;
  const ImprovedPlan plan = improved(input, {.placements = 10'000'000}, [&](const auto& now) {
    seen.push_back(now);
    return seen.size() < 4;
  });
  ASSERT_EQ(seen.size(), 4u);
  EXPECT_TRUE(plan.stopped);
  EXPECT_EQ(plan.cost, seen.back().cost);
  EXPECT_EQ(plan.placements, seen.back().placements);
  EXPECT_EQ(plan.first_cost, seen.front().cost);
  for (std::size_t meeting = 1; meeting < seen.size(); ++meeting) {
    EXPECT_LE(seen[meeting].cost, seen[meeting - 1].cost);
    EXPECT_GT(seen[meeting].placements, seen[meeting - 1].placements);
  }
}

TEST(ImprovePlan, ReplanningTheSameShopMovesNothing) {
  Random random(55);
  for (int round = 0; round < 30; ++round) {
    const PlanInput input = random_workshop(random, {.orders = 6});
    const ImprovedPlan plan = improved(input, {.placements = 20'000});
    PlanInput next = with_frozen_start(input, plan.plan, 0);
    const ImprovedPlan again = improved(next, {.placements = 1, .weights = {.moved = 1000}});
    EXPECT_EQ(again.plan.score.moved, 0) << "round " << round;
    EXPECT_LE(again.cost, plan.cost + 1e-9);
  }
}

TEST(ImprovePlan, AHeavierWeightOnChangeKeepsMoreOfTheLastPlan) {
  PlanInput input = empty_shop();
  add_person(input, "Ada", kMechanic);
  // Yesterday: 118 on Monday and a little of Tuesday, then 119; both are due on Wednesday.
  for (const double minutes : {600.0, 500.0}) {
    const int order = add_order(input, std::to_string(118 + input.orders.size()));
    input.orders.back().due = monday() + std::chrono::days(2);
    add_task(input, order, minutes);
  }
  PlanInput next = input;
  next.tasks[0].previous = {0, minute(0, 9)};
  next.tasks[1].previous = {0, minute(1, 10, 30)};
  // Now its hub comes on Tuesday at noon. If 119 keeps its day, 118 is ready on Thursday; if it
  // goes on Monday, on Wednesday.
  next.arrivals.push_back({.what = "rear hub", .known = monday() + std::chrono::days(1)});
  next.tasks[0].parts = {0};
  const ImprovedPlan prompt =
      improved(next, {.placements = 1000, .weights = {.day_late = 1000, .moved = 1}});
  const ImprovedPlan still =
      improved(next, {.placements = 1000, .weights = {.day_late = 1, .moved = 1000}});
  EXPECT_EQ(prompt.plan.score.moved, 2);  // the other bike goes first
  EXPECT_EQ(still.plan.score.moved, 1);   // only what must
  EXPECT_LT(prompt.plan.score.weighted_days_late, still.plan.score.weighted_days_late);
}

TEST(ImprovePlan, UnevenHoursAreThoseThatWouldChangeHands) {
  PlanInput input = empty_shop(7);
  add_person(input, "Ada", kMechanic);
  add_person(input, "Bo", kMechanic | kSenior);
  add_task(input, add_order(input, "118"), 240);
  // Four hours, all with Ada: two would have to go to Bo.
  EXPECT_NEAR(improved(input, {.placements = 1}).plan.score.uneven_hours, 2, 1e-9);
}

TEST(ImprovePlan, RefusesWhatCannotBe) {
  const PlanInput input = empty_shop();
  EXPECT_EQ(improve_plan(input, {.placements = 0}).error().code, Code::kOutOfRange);
  EXPECT_EQ(improve_plan(input, {.threads = 0}).error().code, Code::kOutOfRange);
  EXPECT_EQ(improve_plan(input, {.arrival_confidence = 1}).error().code, Code::kOutOfRange);
  EXPECT_EQ(improve_plan(input, {.weights = {.moved = -1}}).error().code, Code::kOutOfRange);
  PlanInput bad = input;
  bad.days = 0;
  EXPECT_EQ(improve_plan(bad).error().code, Code::kOutOfRange);
  EXPECT_EQ(improved(input).cost, 0);  // nothing to do
}

/// How often an easier shop gets a worse plan from the same placements.
struct Worse {
  int cases = 0;
  int worse = 0;
  double most_percent = 0;

  void count(double as_is, double easier) {
    ++cases;
    if (easier <= as_is + 1e-9) return;
    ++worse;
    most_percent = std::max(most_percent, 100 * (easier - as_is) / as_is);
  }
};

// An easier shop has no worse best plan, but a search may end elsewhere (Graham's anomalies). Of 100,
// 100 and 74 easier shops 17, 6 and 4 had a plan that costs more, by 4.8 % at most, when this was
// written. The limits leave room for another order of the search, not for another search.

TEST(ImprovePlan, AnEarlierArrivalSeldomMakesTheCostWorse) {
  Random random(56);
  Worse worse;
  for (int round = 0; round < 100; ++round) {
    const PlanInput input = random_workshop(random, {.orders = 6});
    if (input.arrivals.empty()) continue;
    PlanInput sooner = input;
    sooner.arrivals[random.below(sooner.arrivals.size())].known = monday();
    // Kits complete sooner wait longer, which is no fault of the plan.
    const ImproveOptions options{.placements = 15'000, .weights = {.kit_day = 0}};
    worse.count(improved(input, options).cost, improved(sooner, options).cost);
  }
  RecordProperty("cases", worse.cases);
  RecordProperty("worse", worse.worse);
  std::printf("earlier arrival: %d of %d worse, at most %.2f %%\n", worse.worse, worse.cases,
              worse.most_percent);
  EXPECT_LE(worse.worse, worse.cases / 4);
  EXPECT_LT(worse.most_percent, 10);
}

TEST(ImprovePlan, OneMoreMechanicSeldomMakesTheCostWorse) {
  Random random(57);
  Worse worse;
  for (int round = 0; round < 100; ++round) {
    const PlanInput input = random_workshop(random, {.orders = 6});
    PlanInput more = input;
    add_person(more, "one more", kMechanic);
    // One more person makes the weeks of all less even.
    const ImproveOptions options{.placements = 15'000, .weights = {.uneven_hour = 0}};
    worse.count(improved(input, options).cost, improved(more, options).cost);
  }
  RecordProperty("cases", worse.cases);
  RecordProperty("worse", worse.worse);
  std::printf("one more mechanic: %d of %d worse, at most %.2f %%\n", worse.worse, worse.cases,
              worse.most_percent);
  EXPECT_LE(worse.worse, worse.cases / 4);
  EXPECT_LT(worse.most_percent, 10);
}

TEST(ImprovePlan, ALaterDueDaySeldomMakesTheCostWorse) {
  Random random(58);
  Worse worse;
  for (int round = 0; round < 100; ++round) {
    const PlanInput input = random_workshop(random, {.orders = 6});
    PlanInput later = input;
    Order& order = later.orders[random.below(later.orders.size())];
    if (!order.due) continue;
    *order.due += std::chrono::days(1 + static_cast<int>(random.below(5)));
    worse.count(improved(input, {.placements = 15'000}).cost,
                improved(later, {.placements = 15'000}).cost);
  }
  RecordProperty("cases", worse.cases);
  RecordProperty("worse", worse.worse);
  std::printf("later due day: %d of %d worse, at most %.2f %%\n", worse.worse, worse.cases,
              worse.most_percent);
  EXPECT_LE(worse.worse, worse.cases / 4);
  EXPECT_LT(worse.most_percent, 10);
}

}  // namespace
}  // namespace rollwright::plan
