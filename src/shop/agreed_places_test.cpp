#include "shop/agreed_places.hpp"

#include <gtest/gtest.h>

#include "base/index.hpp"
#include "plan/workshop_cases.hpp"

// Small workshops, invented.
namespace rollwright::shop {
namespace {

using namespace plan::cases;

plan::PlanInput two_orders() {
  plan::PlanInput input = empty_shop();
  add_person(input, "Ada", kMechanic);
  add_person(input, "Bo", kMechanic);
  for (const char* id : {"118", "119"}) add_task(input, add_order(input, id), 60);
  return input;
}

TEST(PinWhatCan, PinsAllWhereNothingClashes) {
  plan::PlanInput input = two_orders();
  input.tasks[0].previous = {0, minute(1, 10)};
  input.tasks[1].previous = {1, minute(1, 10)};
  EXPECT_TRUE(pin_what_can(input, {0, 1}).empty());
  EXPECT_TRUE(input.tasks[0].pinned && input.tasks[1].pinned);
}

TEST(PinWhatCan, LeavesOneFreeThatClashesAndSaysWhy) {
  plan::PlanInput input = two_orders();
  input.tasks[0].previous = {0, minute(1, 10)};
  input.tasks[1].previous = {0, minute(1, 10, 30)};
  const auto free = pin_what_can(input, {0, 1});
  ASSERT_EQ(free.size(), 1u);
  EXPECT_EQ(free.front().task, 1);
  EXPECT_NE(free.front().sentence.find("at the same time"), std::string::npos)
      << free.front().sentence;
  EXPECT_TRUE(input.tasks[0].pinned);
  EXPECT_FALSE(input.tasks[1].pinned);
  EXPECT_TRUE(plan::problems_of(input).empty());
}

TEST(PinWhatCan, LeavesWorkFreeWhoseDoerItMustCheck) {
  plan::PlanInput input = two_orders();
  const int check = add_task(input, 0, 30, {0});
  input.tasks[at(check)].not_by_doer_of = {0};
  input.tasks[0].done = true;
  input.tasks[0].done_by = 0;
  input.tasks[at(check)].previous = {0, minute(1, 10)};
  const auto free = pin_what_can(input, {check});
  ASSERT_EQ(free.size(), 1u);
  EXPECT_NE(free.front().sentence.find("second person"), std::string::npos);
}

TEST(ForgetDoers, OnlyWhereTheyLeaveNoSecondPerson) {
  plan::PlanInput input = two_orders();
  add_task(input, 0, 30);
  const int check = add_task(input, 0, 30, {0, 2});
  input.tasks[at(check)].not_by_doer_of = {0, 2};
  for (const int task : {0, 2}) input.tasks[at(task)].done = true;
  input.tasks[0].done_by = 0;
  EXPECT_EQ(forget_doers_that_clash(input), "");
  EXPECT_EQ(input.tasks[0].done_by, 0);
  input.tasks[2].done_by = 1;
  EXPECT_NE(forget_doers_that_clash(input).find("no second person"), std::string::npos);
  EXPECT_EQ(input.tasks[0].done_by, -1);
  EXPECT_TRUE(plan::problems_of(input).empty());
}

TEST(ForgetDoers, LeavesOtherProblemsAsTheyAre) {
  plan::PlanInput input = two_orders();
  input.tasks[0].any_of = kWheels;  // nobody has it
  input.tasks[1].done = true;
  input.tasks[1].done_by = 1;
  EXPECT_EQ(forget_doers_that_clash(input), "");
  EXPECT_EQ(input.tasks[1].done_by, 1);
}

TEST(Frozen, EndsAfterTheLastOfTheFrozenDaysOnWhichSomebodyWorks) {
  const plan::PlanInput input = two_orders();  // from a Monday on, Monday to Friday
  EXPECT_EQ(end_of_frozen(input, 0, 0), minute(1, 0));
  EXPECT_EQ(end_of_frozen(input, 0, 4), minute(5, 0));
  EXPECT_EQ(end_of_frozen(input, 0, 5), minute(8, 0)) << "over the weekend";
  EXPECT_EQ(end_of_frozen(input, minute(5, 0), 1), minute(8, 0)) << "asked on a Saturday";
}

}  // namespace
}  // namespace rollwright::shop
