#include "plan/orders_to_come.hpp"

#include <chrono>

#include <gtest/gtest.h>

#include "plan/workshop_cases.hpp"

namespace rollwright::plan {
namespace {

using namespace cases;
using std::chrono::days;

constexpr PromiseOptions kDraws{.draws = 400};

/// One mechanic; order 118 needs two days of work, its parts come on the tenth carrier day.
PlanInput one_order() {
  PlanInput input = empty_shop(120);
  add_person(input, "Ada", kMechanic);
  const int task = add_task(input, add_order(input, "118"), 1000);
  input.tasks[static_cast<std::size_t>(task)].parts = {
      add_arrival(input, "frame", {.least = 10, .median = 0, .sigma = 0})};
  return input;
}

/// So many a week, each a day of work, told after so many days, parts at hand.
OrdersSeen seen_so_far(double a_week, int told_after) {
  const OrderSeen like{.work = {{.any_of = kMechanic, .area = 0, .minutes = 500}},
                       .told_after = told_after, .kit_after = 0};
  return {.orders = std::vector<OrderSeen>(kFewestSeen, like), .a_day = a_week / 7};
}

Day day_of(const Result<Promise>& promise) {
  EXPECT_TRUE(promise) << promise.error().sentence;
  return promise && promise->day_90 ? *promise->day_90 : Day::max();
}

TEST(OrdersToCome, NoneWhenNothingIsKnownOfOrders) {
  const PlanInput input = one_order();
  const Day plain = day_of(promise(input, 0, kDraws));
  EXPECT_EQ(day_of(promise_in_turn(input, 0, {}, 0.9, kDraws)), plain);
}

TEST(OrdersToCome, TakeTheBenchWhenTheyAreToldSooner) {
  const PlanInput input = one_order();
  const Day alone = day_of(promise(input, 0, kDraws));
  // Told within five days and nine a week, a day each: the mechanic has no time left for 118.
  EXPECT_GT(day_of(promise_in_turn(input, 0, seen_so_far(9, 5), 0.9, kDraws)), alone);
  // Those told in sixty days go after it, and it is told before the first of them is there.
  EXPECT_EQ(day_of(promise_in_turn(input, 0, seen_so_far(9, 60), 0.9, kDraws)), alone);
}

TEST(OrdersToCome, ComeAsOftenAsTheyDidInTheMean) {
  PlanInput input = one_order();
  add_orders_to_come(input, seen_so_far(3, 1), input.first_day + days(50));
  double expected = 0;
  for (std::size_t order = 1; order < input.orders.size(); ++order) {
    expected += input.orders[order].chance;
  }
  EXPECT_NEAR(expected, 3 * 7, 1);  // in seven weeks
  EXPECT_TRUE(problems_of(input).empty());
  EXPECT_LE(input.orders.size(), 1u + kMostToCome);
}

TEST(OrdersToCome, AreTheSameWhateverTheDayAskedAbout) {
  PlanInput sooner = one_order();
  PlanInput later = one_order();
  add_orders_to_come(sooner, seen_so_far(3, 4), sooner.first_day + days(20));
  add_orders_to_come(later, seen_so_far(3, 4), later.first_day + days(40));
  ASSERT_LT(sooner.orders.size(), later.orders.size());
  for (std::size_t order = 0; order < sooner.orders.size(); ++order) {
    EXPECT_EQ(sooner.orders[order].id, later.orders[order].id);
    EXPECT_EQ(sooner.orders[order].due, later.orders[order].due);
  }
}

TEST(OrdersToCome, AnOrderTakesItsTurnByTheDayItWouldBeTold) {
  // Six promised bikes, a day of work each: two are due next week, four in half a year.
  PlanInput input = one_order();
  input.tasks[0].parts.clear();
  for (int other = 0; other < 6; ++other) {
    const int order = add_order(input, std::to_string(200 + other));
    input.orders[static_cast<std::size_t>(order)].due = monday() + days(other < 2 ? 7 : 180);
    add_task(input, order, 500);
  }
  // Behind all, its two days are the seventh and eighth at the bench; told the second Wednesday, it
  // goes before the four, and is ready on the fourth day; told that, before all.
  EXPECT_EQ(day_of(promise(input, 0, kDraws)), monday() + days(9));
  EXPECT_EQ(day_of(promise(in_turn(input, 0, {}, monday() + days(9)), 0, kDraws)),
            monday() + days(3));
  EXPECT_EQ(day_of(promise_in_turn(input, 0, {}, 0.9, kDraws)), monday() + days(1));
}

TEST(OrdersToCome, AnOrderThatWasToldADayKeepsIt) {
  PlanInput input = one_order();
  input.orders[0].due = monday() + days(30);
  const auto day = day_in_turn(input, 0, {}, 0.9, kDraws);
  ASSERT_TRUE(day);
  EXPECT_EQ(*day, monday() + days(30));
}

TEST(OrdersToCome, AreCountedOverTheLastHalfYear) {
  std::vector<std::pair<Day, OrderSeen>> all;
  for (int week = 0; week < 52; ++week) all.emplace_back(monday() - days(7 * week), OrderSeen{});
  const OrdersSeen seen = seen_lately(all, monday());
  EXPECT_EQ(seen.orders.size(), 27u);  // of today and the 26 weeks before
  EXPECT_NEAR(seen.a_day, 27 / 182.0, 1e-12);
  EXPECT_EQ(seen_lately({}, monday()).a_day, 0);
}

TEST(OrdersToCome, WorkIsThatOfTheOrderInOnePieceForEachSkill) {
  PlanInput input = empty_shop();
  add_person(input, "Ada", kMechanic | kWheels);
  input.areas.push_back({"wheel bench", 1});
  const int order = add_order(input, "118");
  add_task(input, order, 30);
  input.tasks[static_cast<std::size_t>(add_task(input, order, 50))].area = 1;
  input.tasks[static_cast<std::size_t>(add_task(input, order, 90))].any_of = kWheels;
  const auto work = work_of(input, order);
  ASSERT_EQ(work.size(), 2u);
  EXPECT_EQ(work[0].minutes, 80);
  EXPECT_EQ(work[0].area, 1);
  EXPECT_EQ(work[1].any_of, kWheels);
}

}  // namespace
}  // namespace rollwright::plan
