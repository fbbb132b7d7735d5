#include <gtest/gtest.h>

#include "plan/shop_plan.hpp"
#include "plan/workshop_cases.hpp"

namespace rollwright::plan {
namespace {

using namespace cases;

Day day(int number) { return monday() + std::chrono::days(number); }

/// Order 118 due after 119; each with one task after another.
PlanInput two_promised_orders() {
  PlanInput input = empty_shop();
  add_person(input, "Ada", kMechanic);
  const int late = add_order(input, "118");
  const int soon = add_order(input, "119");
  input.orders[0].due = day(20);
  input.orders[1].due = day(10);
  const int first = add_task(input, late, 60);
  add_task(input, late, 60, {first});
  add_task(input, soon, 60);
  return input;
}

TEST(TakeUpOrder, GoesByPromisesWithoutALastPlan) {
  EXPECT_EQ(take_up_order(two_promised_orders()), (std::vector<int>{2, 0, 1}));
}

TEST(TakeUpOrder, FollowsTheLastPlan) {
  PlanInput input = two_promised_orders();
  input.tasks[0].previous = {0, minute(0, 9)};
  input.tasks[2].previous = {0, minute(1, 9)};
  input.tasks[1].previous = {0, minute(2, 9)};
  EXPECT_EQ(take_up_order(input), (std::vector<int>{0, 2, 1}));
}

TEST(TakeUpOrder, PutsWorkThatThePlanDoesNotKnowBehindWhatItComesAfter) {
  PlanInput input = two_promised_orders();
  input.tasks[0].previous = {0, minute(0, 9)};
  input.tasks[2].previous = {0, minute(1, 9)};
  EXPECT_EQ(take_up_order(input), (std::vector<int>{0, 1, 2}));
}

TEST(TakeUpOrder, TakesAnUnknownOrderBeforeThosePromisedLater) {
  PlanInput input = two_promised_orders();
  input.tasks[0].previous = {0, minute(1, 9)};
  input.tasks[1].previous = {0, minute(2, 9)};
  const int unknown = add_order(input, "120");
  input.orders[2].due = day(15);
  add_task(input, unknown, 60);
  input.tasks[2].previous = {0, minute(0, 9)};
  EXPECT_EQ(take_up_order(input), (std::vector<int>{2, 3, 0, 1}));
  input.orders[2].due = day(25);
  EXPECT_EQ(take_up_order(input), (std::vector<int>{2, 0, 1, 3}));
}

TEST(TakeUpOrder, BeginsWithWhatIsFrozen) {
  PlanInput input = two_promised_orders();
  input.tasks[0].previous = {0, minute(3, 9)};
  input.tasks[0].pinned = true;
  EXPECT_EQ(take_up_order(input).front(), 0);
}

}  // namespace
}  // namespace rollwright::plan
