#include "plan/shop_plan.hpp"

#include <cmath>

#include <gtest/gtest.h>

#include "plan/check_shop_plan.hpp"
#include "plan/workshop_cases.hpp"

namespace rollwright::plan {
namespace {

using namespace cases;

ShopPlan planned(const PlanInput& input, const PlanOptions& options = {}) {
  auto plan = make_plan(input, options);
  EXPECT_TRUE(plan) << plan.error().sentence;
  if (!plan) return {};
  for (const std::string& wrong : check_shop_plan(input, *plan, options.arrival_confidence)) {
    ADD_FAILURE() << wrong;
  }
  return *plan;
}

std::vector<Window> segments(const ShopPlan& plan, int task) {
  return plan.tasks[static_cast<std::size_t>(task)].segments;
}

std::string refusal(const PlanInput& input) {
  const auto plan = make_plan(input);
  return plan ? "" : plan.error().sentence;
}

// The days in these cases are worked by hand: 9:00-12:30 and 13:00-18:00, one mechanic.

TEST(ShopPlan, WorksThroughAChainAndAcrossTheBreak) {
  PlanInput input = empty_shop();
  add_person(input, "Ada", kMechanic);
  const int order = add_order(input, "118");
  const int first = add_task(input, order, 60);
  const int second = add_task(input, order, 120, {first});
  const int third = add_task(input, order, 300, {second});
  const ShopPlan plan = planned(input);
  EXPECT_EQ(segments(plan, first), (std::vector<Window>{{540, 600}}));
  EXPECT_EQ(segments(plan, second), (std::vector<Window>{{600, 720}}));
  // 30 minutes before the break, 270 after it: until 17:30.
  EXPECT_EQ(segments(plan, third), (std::vector<Window>{{720, 750}, {780, 1050}}));
  EXPECT_EQ(plan.orders[0].ready, minute(0, 17, 30));
  EXPECT_EQ(plan.orders[0].ready_day, monday());
}

TEST(ShopPlan, StartsNoBleedThatWouldStandOvernight) {
  PlanInput input = empty_shop();
  input.now = minute(0, 17, 30);
  add_person(input, "Ada", kMechanic);
  const int order = add_order(input, "118");
  const int bleed = add_task(input, order, 45);
  input.tasks.back().pause = Pause::kWithinDay;
  const int lacing = add_task(input, add_order(input, "119"), 45);
  const ShopPlan plan = planned(input);
  // 30 minutes are left today: enough to begin the lacing, which may lie, not for the bleed.
  EXPECT_EQ(segments(plan, lacing), (std::vector<Window>{{minute(0, 17, 30), minute(0, 18)},
                                                         {minute(1, 9), minute(1, 9, 15)}}));
  EXPECT_EQ(segments(plan, bleed), (std::vector<Window>{{minute(1, 9, 15), minute(1, 10)}}));
}

TEST(ShopPlan, ABondIsNotInterruptedByLunchButABleedMayBe) {
  for (const Pause pause : {Pause::kWithinDay, Pause::kNever}) {
    PlanInput input = empty_shop();
    input.now = minute(0, 12);
    add_person(input, "Ada", kMechanic);
    const int task = add_task(input, add_order(input, "118"), 60);
    input.tasks.back().pause = pause;
    const ShopPlan plan = planned(input);
    const int start = pause == Pause::kNever ? minute(0, 13) : minute(0, 12);
    EXPECT_EQ(segments(plan, task).front().from, start);
  }
}

TEST(ShopPlan, StretchesMinutesByProductiveShareAndWalkIns) {
  PlanInput input = empty_shop();
  add_person(input, "Ada", kMechanic, 0.75);
  input.disturbance = {.walk_in_least = 0.1, .walk_in_most = 0.3};
  const int task = add_task(input, add_order(input, "118"), 60);
  // 60 / (0.75 * 0.8) = 100 minutes of her day.
  EXPECT_EQ(segments(planned(input), task), (std::vector<Window>{{540, 640}}));
}

TEST(ShopPlan, WaitsForPartsAndSaysSo) {
  PlanInput input = empty_shop();
  add_person(input, "Ada", kMechanic);
  const int part = add_arrival(input, "rear hub", {.median = 3});
  add_task(input, add_order(input, "118"), 60);
  input.tasks.back().parts = {part};
  const ShopPlan plan = planned(input);
  // Three working days after Monday is Thursday; parcels are in hand at noon.
  EXPECT_EQ(segments(plan, 0).front().from, minute(3, 12));
  const std::vector<Hold>& holds = plan.orders[0].bound_by;
  ASSERT_EQ(holds.size(), 2u);
  EXPECT_EQ(holds[0].kind, HoldKind::kWork);
  EXPECT_EQ(holds[1].kind, HoldKind::kArrival);
  EXPECT_EQ(holds[1].minutes, minute(3, 12) - minute(0, 9));
  EXPECT_EQ(in_words(input, holds[1]), "parts: rear hub");
}

TEST(ShopPlan, CountsUnattendedTimeUntilReady) {
  PlanInput input = empty_shop();
  add_person(input, "Ada", kMechanic);
  const int order = add_order(input, "118");
  const int charge = add_task(input, order, 10);
  input.tasks.back().unattended = 1440;
  const int ride = add_task(input, order, 20, {charge});
  const ShopPlan plan = planned(input);
  EXPECT_EQ(segments(plan, ride).front().from, minute(1, 9, 10));
}

TEST(ShopPlan, OneStandHoldsOneBikeAtATime) {
  PlanInput input = empty_shop();
  input.areas[0].stands = 1;
  add_person(input, "Ada", kMechanic);
  add_person(input, "Bo", kMechanic);
  const int first = add_task(input, add_order(input, "118"), 60);
  const int second = add_task(input, add_order(input, "119"), 60);
  const ShopPlan plan = planned(input);
  EXPECT_EQ(segments(plan, first).front().from, minute(0, 9));
  EXPECT_EQ(segments(plan, second).front().from, minute(0, 10));
  EXPECT_EQ(plan.orders[1].bound_by.back().kind, HoldKind::kStand);
}

TEST(ShopPlan, OneBikeIsInOnePlaceButItsWheelsMayBeElsewhere) {
  PlanInput input = empty_shop();
  add_person(input, "Ada", kMechanic);
  add_person(input, "Bo", kMechanic);
  const int order = add_order(input, "118");
  add_task(input, order, 60);
  add_task(input, order, 60);
  const int wheel = add_task(input, order, 60);
  input.tasks[2].on_bike = false;
  input.tasks[2].minutes = 70;
  const ShopPlan plan = planned(input);
  EXPECT_EQ(segments(plan, wheel).front().from, minute(0, 9));
  EXPECT_EQ(plan.orders[0].ready, minute(0, 11));  // 9-10 and 10-11 on the bike, wheel beside
}

TEST(ShopPlan, KeepsTheSeniorFreeForSeniorWork) {
  PlanInput input = empty_shop();
  const int senior = add_person(input, "Sol", kMechanic | kSenior);
  const int mechanic = add_person(input, "Ada", kMechanic);
  const int plain = add_task(input, add_order(input, "118"), 60);
  const int hard = add_task(input, add_order(input, "119"), 60);
  input.tasks.back().any_of = kSenior;
  const ShopPlan plan = planned(input);
  EXPECT_EQ(plan.tasks[static_cast<std::size_t>(plain)].person, mechanic);
  EXPECT_EQ(plan.tasks[static_cast<std::size_t>(hard)].person, senior);
  EXPECT_EQ(segments(plan, hard).front().from, minute(0, 9));
}

TEST(ShopPlan, LeavesASecondPersonForTheAudit) {
  PlanInput input = empty_shop();
  const int senior = add_person(input, "Sol", kSenior);
  add_person(input, "Ada", kMechanic | kSenior);
  const int order = add_order(input, "118");
  const int build = add_task(input, order, 60);
  const int more = add_task(input, order, 60, {build});
  input.tasks.back().any_of = kMechanic | kSenior;
  const int audit = add_task(input, order, 15, {more});
  input.tasks.back().any_of = kSenior;
  input.tasks.back().not_by_doer_of = {build, more};
  const ShopPlan plan = planned(input);
  // Sol has fewer skills and could do the middle task; then nobody would be left to audit.
  ASSERT_TRUE(plan.tasks[static_cast<std::size_t>(audit)].placed());
  EXPECT_EQ(plan.tasks[static_cast<std::size_t>(audit)].person, senior);
}

TEST(ShopPlan, PutsThePromisedBikeBeforeTheUnpromised) {
  PlanInput input = empty_shop();
  add_person(input, "Ada", kMechanic);
  add_task(input, add_order(input, "118"), 480);
  add_task(input, add_order(input, "119"), 480);
  input.orders[1].due = monday();
  const ShopPlan plan = planned(input);
  EXPECT_EQ(plan.orders[1].days_late, 0);
  EXPECT_EQ(plan.score.weighted_days_late, 0);
}

TEST(ShopPlan, CountsDaysLateTimesWeight) {
  PlanInput input = empty_shop();
  add_person(input, "Ada", kMechanic);
  add_task(input, add_order(input, "118"), 600);  // 510 on Monday, the rest on Tuesday
  input.orders[0].due = monday() - std::chrono::days(1);
  input.orders[0].weight = 3;
  const ShopPlan plan = planned(input);
  EXPECT_EQ(plan.orders[0].days_late, 2);
  EXPECT_EQ(plan.score.weighted_days_late, 6);
}

TEST(ShopPlan, SaysWhenTheHorizonIsTooShort) {
  PlanInput input = empty_shop(3);
  add_person(input, "Ada", kMechanic);
  const int task = add_task(input, add_order(input, "118"), 2000);
  const ShopPlan plan = planned(input);
  EXPECT_FALSE(plan.tasks[static_cast<std::size_t>(task)].placed());
  EXPECT_FALSE(plan.orders[0].ready);
}

TEST(ShopPlan, LeavesOutWhatIsDoneOrNotReleased) {
  PlanInput input = empty_shop();
  add_person(input, "Ada", kMechanic);
  const int order = add_order(input, "118");
  const int done = add_task(input, order, 60);
  input.tasks.back().done = true;
  const int next = add_task(input, order, 60, {done});
  const int waiting = add_task(input, add_order(input, "119"), 60);
  input.orders.back().released = false;
  const ShopPlan plan = planned(input);
  EXPECT_FALSE(plan.tasks[static_cast<std::size_t>(done)].placed());
  EXPECT_EQ(segments(plan, next).front().from, minute(0, 9));
  EXPECT_FALSE(plan.tasks[static_cast<std::size_t>(waiting)].placed());
}

TEST(ShopPlan, EveryRefusalNamesTaskAndOrder) {
  PlanInput good = empty_shop();
  add_person(good, "Ada", kMechanic);
  const int order = add_order(good, "118");
  const int first = add_task(good, order, 60);
  add_task(good, order, 60, {first});
  const auto expect = [&](const auto& spoil, std::string_view what) {
    PlanInput bad = good;
    spoil(bad);
    const std::string sentence = refusal(bad);
    EXPECT_NE(sentence.find("task 118 "), std::string::npos) << sentence;
    EXPECT_NE(sentence.find("order 118"), std::string::npos) << sentence;
    EXPECT_NE(sentence.find(what), std::string::npos) << sentence;
  };
  expect([](PlanInput& in) { in.tasks[1].any_of = kWheels; }, "nobody in the shop");
  expect([](PlanInput& in) { in.tasks[1].area = 4; }, "an area the shop does not have");
  expect([](PlanInput& in) { in.tasks[0].after = {1}; }, "after itself");
  expect([](PlanInput& in) { in.tasks[0].after = {0}; }, "after itself");
  expect([](PlanInput& in) { in.tasks[1].after = {9}; }, "does not exist");
  expect([](PlanInput& in) { in.tasks[1].parts = {0}; }, "an arrival that does not exist");
  expect([](PlanInput& in) { in.tasks[1].minutes = 0; }, "minutes above 0");
  expect([](PlanInput& in) { in.tasks[1].minutes = std::nan(""); }, "minutes above 0");
  expect([](PlanInput& in) { in.tasks[1].id = in.tasks[0].id; }, "there twice");
  expect([](PlanInput& in) { in.tasks[1].not_by_doer_of = {0}; }, "no second person");
  expect([](PlanInput& in) { in.tasks[0].not_by_doer_of = {1}; }, "does not come after it");
  expect(
      [](PlanInput& in) {
        in.tasks[1].minutes = 511;
        in.tasks[1].pause = Pause::kWithinDay;
      },
      "within one day");
  expect(
      [](PlanInput& in) {
        in.tasks[1].minutes = 301;
        in.tasks[1].pause = Pause::kNever;
      },
      "without a pause");
  expect(
      [](PlanInput& in) {
        in.tasks[1].previous = {0, minute(0, 9)};
        in.tasks[1].pinned = true;
      },
      "neither done nor frozen");
  expect(
      [](PlanInput& in) {
        in.tasks[0].previous = {0, minute(0, 12, 40)};
        in.tasks[0].pinned = true;
      },
      "not at work then");
}

TEST(ShopPlan, RefusesFrozenWorkThatClashes) {
  PlanInput good = empty_shop();
  good.areas[0].stands = 1;
  good.areas.push_back({"test area", 1});
  add_person(good, "Ada", kMechanic);
  add_person(good, "Bo", kMechanic | kSenior);
  const int order = add_order(good, "118");
  const int build = add_task(good, order, 60);
  good.tasks.back().previous = {0, minute(0, 10)};
  const int audit = add_task(good, order, 60, {build});
  good.tasks.back().previous = {1, minute(0, 11)};
  good.tasks.back().area = 1;
  good.tasks.back().not_by_doer_of = {build};
  add_task(good, add_order(good, "119"), 60);
  good.tasks.back().previous = {0, minute(0, 13)};
  good.frozen_until = minute(1, 0);
  EXPECT_EQ(refusal(good), "");
  const auto expect = [&](const auto& spoil, std::string_view what) {
    PlanInput bad = good;
    spoil(bad);
    EXPECT_NE(refusal(bad).find(what), std::string::npos) << refusal(bad);
  };
  expect([](PlanInput& in) { in.tasks[2].previous->start = minute(0, 10, 59); },
         "both frozen for Ada");
  expect([](PlanInput& in) { in.tasks[2].previous = {1, minute(0, 9, 55)}; },
         "1 stands are taken");
  expect([](PlanInput& in) { in.tasks[1].previous->start = minute(0, 10, 59); },
         "before 118 0 ends");
  expect([](PlanInput& in) { in.tasks[1].previous->person = 0; }, "second person");
  expect([](PlanInput& in) { in.tasks[0].any_of = kSenior; }, "lacks the skill");
  expect(
      [](PlanInput& in) {
        in.tasks[2].parts = {add_arrival(in, "hub", {.median = 1})};
      },
      "hub may not be in hand");
  static_cast<void>(audit);
}

TEST(ShopPlan, FrozenWorkStaysWhereItIs) {
  PlanInput input = empty_shop();
  add_person(input, "Ada", kMechanic);
  const int order = add_order(input, "118");
  const int frozen = add_task(input, order, 60);
  input.tasks.back().previous = {0, minute(0, 10)};
  input.frozen_until = minute(2, 0);
  const int other = add_task(input, add_order(input, "119"), 90);
  input.orders.back().due = monday();
  const ShopPlan plan = planned(input);
  EXPECT_EQ(segments(plan, frozen), (std::vector<Window>{{600, 660}}));
  // 90 minutes do not fit before ten, even for a bike that was promised.
  EXPECT_EQ(segments(plan, other).front().from, minute(0, 11));
}

TEST(ShopPlan, KnowsWhichUncertainPartsToExpect) {
  PlanInput input = empty_shop();
  const Arrival hub{.what = "hub", .working_days = {.least = 2, .median = 3, .sigma = 0.5}};
  // Median 5 working days after Monday: Monday in a week. At 90 %: 2 + 3 exp(0.5 * 1.2816) = 7.69,
  // so the eighth, Thursday in a week (quantile of the normal distribution: 1.2816).
  EXPECT_EQ(in_hand(input, hub, 0.5), minute(7, 12));
  EXPECT_EQ(in_hand(input, hub, 0.9), minute(10, 12));
  EXPECT_EQ(in_hand(input, {.what = "late", .working_days = {.median = 500}}, 0.5), kNever);
  EXPECT_EQ(in_hand(input, {.what = "known", .known = monday() + std::chrono::days(5)}, 0.5),
            minute(5, 12));
}

TEST(ShopPlan, EveryRandomPlanPassesTheIndependentCheck) {
  Random random(11);
  for (int round = 0; round < 250; ++round) {
    SCOPED_TRACE(round);
    const PlanInput input = random_workshop(random, {.orders = 6});
    const ShopPlan plan = planned(input, {.seed = 3, .rounds = 8});
    const PlanInput next = with_frozen_start(input, plan, 2);
    planned(next, {.seed = 4, .rounds = 8});
    if (HasFailure()) return;
  }
}

TEST(ShopPlan, MoreRoundsNeverMakeAWorsePlan) {
  Random random(12);
  for (int round = 0; round < 20; ++round) {
    const PlanInput input = random_workshop(random, {.orders = 8});
    PlanScore before = planned(input, {.rounds = 1}).score;
    for (const int rounds : {3, 6, 12, 40}) {
      const PlanScore score = planned(input, {.rounds = rounds}).score;
      EXPECT_FALSE(before < score) << "round " << round << ", rounds " << rounds;
      before = score;
    }
  }
}

TEST(ShopPlan, TheSameSeedMakesTheSamePlan) {
  Random random(13);
  const PlanInput input = random_workshop(random, {.orders = 8});
  const ShopPlan a = planned(input, {.rounds = 30});
  const ShopPlan b = planned(input, {.rounds = 30});
  for (std::size_t task = 0; task < a.tasks.size(); ++task) {
    EXPECT_EQ(a.tasks[task].person, b.tasks[task].person);
    EXPECT_EQ(a.tasks[task].segments, b.tasks[task].segments);
  }
}

TEST(ShopPlan, ReplanningTheSameShopMovesNothing) {
  Random random(14);
  for (int round = 0; round < 20; ++round) {
    const PlanInput input = random_workshop(random, {.orders = 5});
    const ShopPlan plan = planned(input);
    PlanInput next = input;
    for (const PlannedTask& placed : plan.tasks) {
      if (placed.placed()) {
        next.tasks[static_cast<std::size_t>(placed.task)].previous = {placed.person,
                                                                      placed.start()};
      }
    }
    next.frozen_until = 0;
    for (Task& task : next.tasks) task.pinned = task.previous.has_value();
    // Parts are expected at the same quantile, so a pinned task must not be refused for them.
    for (const Task& task : next.tasks) {
      for (const int part : task.parts) {
        next.arrivals[static_cast<std::size_t>(part)].known = next.first_day - std::chrono::days(1);
      }
    }
    EXPECT_EQ(planned(next).score.moved, 0);
  }
}

}  // namespace
}  // namespace rollwright::plan
