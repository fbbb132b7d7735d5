#include "plan/plan_changes.hpp"

#include <gtest/gtest.h>

#include "plan/check_shop_plan.hpp"
#include "plan/improve_plan.hpp"
#include "plan/pin_task.hpp"
#include "plan/workshop_cases.hpp"

namespace rollwright::plan {
namespace {

using namespace cases;

ShopPlan planned(const PlanInput& input, std::int64_t placements = 2000) {
  auto found = improve_plan(input, {.placements = placements});
  EXPECT_TRUE(found) << found.error().sentence;
  if (!found) return {};
  for (const std::string& wrong : check_shop_plan(input, found->plan)) ADD_FAILURE() << wrong;
  return found->plan;
}

/// Two bikes of a full day each, one mechanic, one stand; the plan of Monday morning is carried
/// over.
PlanInput two_bikes() {
  PlanInput input = empty_shop();
  input.areas[0].stands = 1;
  add_person(input, "Ada", kMechanic);
  for (const int day : {0, 1}) {
    const int order = add_order(input, std::to_string(118 + day));
    input.orders.back().due = monday() + std::chrono::days(day);
    input.orders.back().weight = 2 - day;  // so that the first stays before the second
    add_task(input, order, 510);
  }
  return with_frozen_start(input, planned(input), 0);
}

const TaskChange* change_of(const PlanChanges& changes, int task) {
  for (const TaskChange& change : changes.tasks) {
    if (change.task == task) return &change;
  }
  return nullptr;
}

TEST(PlanChanges, NothingChangesWithoutAnEvent) {
  const PlanInput input = two_bikes();
  const PlanChanges changes = what_changed(input, planned(input));
  EXPECT_TRUE(changes.tasks.empty());
  ASSERT_EQ(changes.at_risk.size(), 2u);  // both are ready on the very day promised
  EXPECT_EQ(changes.at_risk[0].days_left, 0);
  EXPECT_EQ(changes.at_risk[0].days_late, 0);
}

TEST(PlanChanges, NamesTheLateArrivalAndThePromiseItPutsAtRisk) {
  PlanInput input = two_bikes();
  input.arrivals.push_back({.what = "rear hub", .known = monday() + std::chrono::days(2)});
  input.tasks[1].parts = {0};
  const PlanChanges changes = what_changed(input, planned(input));
  ASSERT_EQ(changes.tasks.size(), 1u);
  EXPECT_EQ(changes.tasks[0].task, 1);
  ASSERT_EQ(changes.tasks[0].because.size(), 1u);
  EXPECT_EQ(changes.tasks[0].because[0], (Cause{CauseKind::kArrival, 0}));
  EXPECT_EQ(in_words(input, changes.tasks[0].because[0]), "parts come later: rear hub");
  ASSERT_FALSE(changes.at_risk.empty());
  EXPECT_EQ(changes.at_risk[0].order, 1);
  EXPECT_EQ(changes.at_risk[0].days_late, 2);  // noon of Wednesday and a day's work: Thursday
  EXPECT_EQ(changes.at_risk[0].changed_tasks, 1);
  ASSERT_TRUE(changes.at_risk[0].held_by);
  EXPECT_EQ(changes.at_risk[0].held_by->kind, HoldKind::kArrival);
}

TEST(PlanChanges, FollowsAnAbsenceFromTaskToTask) {
  PlanInput input = two_bikes();
  std::erase_if(input.people[0].hours, [](const Window& hours) { return hours.to <= 1440; });
  const ShopPlan plan = planned(input);
  const PlanChanges changes = what_changed(input, plan);
  const TaskChange* first = change_of(changes, 0);
  const TaskChange* second = change_of(changes, 1);
  ASSERT_TRUE(first && second);
  EXPECT_EQ(first->because, (std::vector<Cause>{{CauseKind::kAbsent, 0}}));
  // The second bike is pushed on by the first, which is pushed on by the absence.
  EXPECT_EQ(second->because,
            (std::vector<Cause>{{CauseKind::kPersonTaken, 0}, {CauseKind::kAbsent, 0}}));
}

TEST(PlanChanges, NamesAnotherPromiseThatTookThePlace) {
  PlanInput input = two_bikes();
  const int rush = add_order(input, "120");
  input.orders.back().due = monday();
  input.orders.back().weight = 50;
  add_task(input, rush, 510);
  const PlanChanges changes = what_changed(input, planned(input));
  const TaskChange* second = change_of(changes, 1);
  ASSERT_TRUE(second);
  EXPECT_EQ(second->because.back(), (Cause{CauseKind::kNewWork, rush}));
}

TEST(PlanChanges, EveryMovedTaskHasACauseAndOnlyThose) {
  Random random(61);
  for (int round = 0; round < 60; ++round) {
    const PlanInput input = random_workshop(random, {.orders = 6});
    PlanInput next = with_frozen_start(input, planned(input), 1);
    const std::size_t person = random.below(next.people.size());
    std::erase_if(next.people[person].hours, [&](const Window& hours) {
      return hours.from >= next.frozen_until + 1440 && hours.to < next.frozen_until + 5 * 1440;
    });
    if (!problems_of(next).empty()) continue;
    const ShopPlan plan = planned(next);
    const PlanChanges changes = what_changed(next, plan);
    EXPECT_EQ(static_cast<int>(changes.tasks.size()), plan.score.moved);
    for (const TaskChange& change : changes.tasks) {
      const Task& task = next.tasks[static_cast<std::size_t>(change.task)];
      EXPECT_FALSE(is_frozen(next, task));
      ASSERT_FALSE(change.because.empty());
      for (const Cause& cause : change.because) EXPECT_FALSE(in_words(next, cause).empty());
    }
  }
}

TEST(PinTask, IsKeptAndItsPriceIsTheDifference) {
  PlanInput input = empty_shop();
  add_person(input, "Ada", kMechanic);
  add_person(input, "Bo", kMechanic);
  const int order = add_order(input, "118");
  input.orders.back().due = monday();
  const int first = add_task(input, order, 60);
  const int second = add_task(input, order, 60, {first});
  const Assignment where{1, minute(2, 10)};
  const auto price = price_of_pin(input, second, where, {.placements = 1000});
  ASSERT_TRUE(price) << price.error().sentence;
  EXPECT_EQ(price->with.plan.tasks[1].person, 1);
  EXPECT_EQ(price->with.plan.tasks[1].start(), where.start);
  EXPECT_EQ(price->without.plan.score.weighted_days_late, 0);
  // By hand: two days late instead of none; ready on Wednesday at 11:00 instead of Monday at 11:00
  // makes two kit days and two last days more.
  EXPECT_EQ(price->with.plan.score.weighted_days_late, 2);
  EXPECT_NEAR(price->cost, 2 * 100 + 2 + 2, 0.2);  // and what becomes more or less even
}

TEST(PinTask, StandsBetweenWorkAndItsSecondPerson) {
  PlanInput input = empty_shop();
  add_person(input, "Ada", kMechanic);
  add_person(input, "Bo", kMechanic);
  const int order = add_order(input, "118");
  const int first = add_task(input, order, 60);
  const int between = add_task(input, order, 60, {first});
  add_task(input, order, 60, {between});
  input.tasks.back().not_by_doer_of = {first};
  const auto pinned = pinned_by_hand(input, planned(input), between, {0, minute(1, 10)});
  ASSERT_TRUE(pinned) << pinned.error().sentence;
  EXPECT_TRUE(pinned->tasks[1].pinned);
}

TEST(PinTask, ComesAfterWhatCannotEndInTimeIsRefused) {
  PlanInput input = empty_shop();
  add_person(input, "Ada", kMechanic);
  const int order = add_order(input, "118");
  const int first = add_task(input, order, 300);
  const int second = add_task(input, order, 60, {first});
  const ShopPlan plan = planned(input);
  const auto early = pinned_by_hand(input, plan, second, {0, minute(0, 10)});
  ASSERT_FALSE(early);
  EXPECT_EQ(early.error().code, Code::kRefused);
  EXPECT_NE(early.error().sentence.find("118 0, which comes before it, cannot be over before"),
            std::string::npos)
      << early.error().sentence;
  EXPECT_FALSE(pinned_by_hand(input, plan, second, {0, minute(5, 10)}));  // Saturday
  EXPECT_FALSE(pinned_by_hand(input, plan, second, {1, minute(1, 10)}));  // nobody
  EXPECT_FALSE(pinned_by_hand(input, plan, 9, {0, minute(1, 10)}));
  EXPECT_FALSE(pinned_by_hand(input, plan, second, {0, 0}));  // past
  const auto later = pinned_by_hand(input, plan, second, {0, minute(1, 10)});
  ASSERT_TRUE(later);
  EXPECT_TRUE(later->tasks[0].pinned);
}

TEST(PinTask, PinsOfRandomTasksHoldOrAreRefusedInWords) {
  Random random(62);
  int held = 0;
  for (int round = 0; round < 60; ++round) {
    const PlanInput input = random_workshop(random, {.orders = 5});
    const ShopPlan plan = planned(input);
    const int task = static_cast<int>(random.below(input.tasks.size()));
    const PlannedTask& placed = plan.tasks[static_cast<std::size_t>(task)];
    if (!placed.placed()) continue;
    // A week later, by the same person.
    const Assignment where{placed.person, placed.start() + 7 * kMinutesPerDay};
    const auto pinned = pinned_by_hand(input, plan, task, where);
    if (!pinned) {
      EXPECT_FALSE(pinned.error().sentence.empty());
      continue;
    }
    ++held;
    const ShopPlan with = planned(*pinned);
    EXPECT_EQ(with.tasks[static_cast<std::size_t>(task)].start(), where.start);
    EXPECT_EQ(with.tasks[static_cast<std::size_t>(task)].person, where.person);
  }
  EXPECT_GT(held, 10);
}

}  // namespace
}  // namespace rollwright::plan
