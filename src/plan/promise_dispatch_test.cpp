#include "plan/promise_dispatch.hpp"

#include <algorithm>

#include <gtest/gtest.h>

#include "base/index.hpp"
#include "plan/promise_plain_test.hpp"
#include "plan/shop_plan.hpp"
#include "plan/workshop_cases.hpp"

namespace rollwright::plan {
namespace {

using namespace cases;

void expect_same(const PlanInput& input, int draws) {
  const DrawSource source(input, 5);
  Dispatcher dispatcher(input);
  Draw draw;
  std::vector<Ran> ran;
  for (int number = 0; number < draws; ++number) {
    source.sample(number, draw);
    dispatcher.run(source, draw, {}, ran);
    PlainShop plain(input, source, draw);
    plain.run();
    for (std::size_t task = 0; task < input.tasks.size(); ++task) {
      ASSERT_EQ(ran[task].start, plain.start(static_cast<int>(task)))
          << "draw " << number << ", " << input.tasks[task].id;
      ASSERT_EQ(ran[task].end, plain.end(static_cast<int>(task)))
          << "draw " << number << ", " << input.tasks[task].id;
    }
  }
}

TEST(PromiseDispatch, DoesWhatAPlainMinuteByMinuteShopDoes) {
  Random random(21);
  for (int round = 0; round < 24; ++round) {
    SCOPED_TRACE(round);
    const PlanInput input =
        random_workshop(random, {.orders = 4, .tasks_per_order = 6, .days = 18});
    expect_same(input, 3);
    if (HasFatalFailure()) return;
  }
}

TEST(PromiseDispatch, DoesSoWithFrozenWorkToo) {
  Random random(22);
  int frozen = 0;
  for (int round = 0; round < 16; ++round) {
    SCOPED_TRACE(round);
    const PlanInput input =
        random_workshop(random, {.orders = 4, .tasks_per_order = 6, .days = 18});
    const auto plan = make_plan(input);
    ASSERT_TRUE(plan);
    const PlanInput next = with_frozen_start(input, *plan, 3);
    for (const Task& task : next.tasks) {
      if (is_open(next, task) && is_frozen(next, task)) ++frozen;
    }
    expect_same(next, 3);
    if (HasFatalFailure()) return;
  }
  EXPECT_GT(frozen, 100);
}

TEST(PromiseDispatch, DoesSoWithSeveralPairsOfHands) {
  Random random(24);
  int together = 0;
  for (int round = 0; round < 24; ++round) {
    SCOPED_TRACE(round);
    PlanInput input = random_workshop(random, {.orders = 4, .tasks_per_order = 6, .days = 14});
    together += add_hands(random, input);
    const auto plan = make_plan(input);
    ASSERT_TRUE(plan);
    expect_same(round % 2 == 0 ? input : with_frozen_start(input, *plan, 3), 1);
    if (HasFatalFailure()) return;
  }
  EXPECT_GT(together, 50);
}

TEST(PromiseDispatch, WorkThatRunsNowIsNotOverYet) {
  PlanInput input = empty_shop();
  add_person(input, "Ada", kMechanic);
  input.now = minute(0, 14);
  const int task = add_task(input, add_order(input, "118"), 60);
  input.tasks.back().previous = {0, minute(0, 9)};
  input.tasks.back().pinned = true;
  const DrawSource source(input, 1);
  Draw draw;
  source.sample(0, draw);
  std::vector<Ran> ran;
  Dispatcher(input).run(source, draw, {}, ran);
  EXPECT_EQ(ran[at(task)].start, minute(0, 9));
  EXPECT_EQ(ran[at(task)].end, minute(0, 14));
}

TEST(PromiseDispatch, AnItemKeepsItsLuckWhenOthersChange) {
  Random random(23);
  const PlanInput input = random_workshop(random, {});
  PlanInput other = input;
  other.tasks.insert(other.tasks.begin(), other.tasks.front());
  other.tasks.front().id = "something new";
  other.arrivals.push_back({.what = "one more", .working_days = {.median = 2, .sigma = 1}});
  std::swap(other.people.front(), other.people.back());
  Draw a;
  Draw b;
  const DrawSource before(input, 9);
  const DrawSource after(other, 9);
  before.sample(17, a);
  after.sample(17, b);
  for (std::size_t task = 0; task < input.tasks.size(); ++task) {
    EXPECT_EQ(a.work[task], b.work[task + 1]);
  }
  for (std::size_t arrival = 0; arrival < input.arrivals.size(); ++arrival) {
    EXPECT_EQ(a.in_hand[arrival], b.in_hand[arrival]);
  }
  const int last = static_cast<int>(input.people.size()) - 1;
  EXPECT_EQ(before.rate(a, 0, 12), after.rate(b, last, 12));
}

TEST(PromiseDispatch, PeopleAreSickAsOftenAsStated) {
  PlanInput input = empty_shop(200);
  add_person(input, "Ada", kMechanic);
  input.disturbance = {.sick = 0.1};
  const DrawSource source(input, 3);
  Draw draw;
  int sick = 0;
  for (int number = 0; number < 200; ++number) {
    source.sample(number, draw);
    EXPECT_GT(source.rate(draw, 0, 0), 0);  // today is known
    for (int day = 1; day <= 100; ++day) sick += source.rate(draw, 0, day) == 0 ? 1 : 0;
  }
  // Binomial, n = 20 000, p = 0.1: standard deviation 42.4; 4 of them.
  EXPECT_NEAR(sick, 2000, 170);
}

TEST(PromiseDispatch, PeopleAreIllForSpellsOfTheLengthStated) {
  PlanInput input = empty_shop(400);
  add_person(input, "Ada", kMechanic);
  input.disturbance = {.sick = 0.1, .sick_days = 5};
  const DrawSource source(input, 3);
  Draw draw;
  int sick = 0;
  int spells = 0;
  for (int number = 0; number < 400; ++number) {
    source.sample(number, draw);
    bool before = false;
    for (int day = 1; day < 400; ++day) {
      const bool is_out = source.rate(draw, 0, day) == 0;
      sick += is_out ? 1 : 0;
      spells += is_out && !before ? 1 : 0;
      before = is_out;
    }
  }
  // A chain of two states: share h / (h + 1 / 5), mean length 5. 159 600 days with about 3 200
  // spells: 2 in 100 of either is more than one standard error, 6 in 100 more than three.
  EXPECT_NEAR(sick / 159600.0, 0.1, 0.006);
  EXPECT_NEAR(static_cast<double>(sick) / spells, 5, 0.3);
}

TEST(PromiseDispatch, WhoIsIllTodayIsOftenIllTomorrow) {
  PlanInput input = empty_shop(60);
  add_person(input, "Ada", kMechanic);
  input.people.back().out = true;
  input.disturbance = {.sick = 0.03, .sick_days = 5};
  const DrawSource source(input, 3);
  Draw draw;
  int out = 0;
  for (int number = 0; number < 4000; ++number) {
    source.sample(number, draw);
    out += source.rate(draw, 0, 1) == 0 ? 1 : 0;
  }
  EXPECT_NEAR(out, 3200, 100);  // 4 in 5; standard deviation 25
}

TEST(PromiseDispatch, LeaveNotToldYetBeginsWhenItMayBeUntold) {
  PlanInput input = empty_shop(200);
  add_person(input, "Ada", kMechanic);
  input.people.back().untold_leave = 0.08;
  input.disturbance = {.leave_from = 56, .leave_days = 10};
  const DrawSource source(input, 3);
  Draw draw;
  int late = 0;
  for (int number = 0; number < 400; ++number) {
    source.sample(number, draw);
    for (int day = 0; day < 56; ++day) ASSERT_GT(source.rate(draw, 0, day), 0);
    for (int day = 120; day < 200; ++day) late += source.rate(draw, 0, day) == 0 ? 1 : 0;
  }
  EXPECT_NEAR(late / 32000.0, 0.08, 0.015);
}

TEST(PromiseDispatch, AnOrderComesAsOftenAsItsChance) {
  PlanInput input = empty_shop();
  add_person(input, "Ada", kMechanic);
  const int sure = add_task(input, add_order(input, "118"), 60);
  const int maybe = add_task(input, add_order(input, "to come 1"), 60);
  input.orders.back().chance = 0.3;
  const DrawSource source(input, 1);
  Dispatcher dispatcher(input);
  Draw draw;
  std::vector<Ran> ran;
  int came = 0;
  const std::vector<int> wanted = {0};
  for (int number = 0; number < 4000; ++number) {
    source.sample(number, draw);
    came += draw.comes[1];
    dispatcher.run(source, draw, wanted, ran);
    EXPECT_GE(ran[at(sure)].start, 0);
    if (draw.comes[1] == 0) {
      EXPECT_EQ(ran[at(maybe)].start, -1);
    }
  }
  EXPECT_NEAR(came, 1200, 120);  // standard deviation 29
}

}  // namespace
}  // namespace rollwright::plan
