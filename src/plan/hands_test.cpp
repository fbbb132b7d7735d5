#include <algorithm>
#include <bit>
#include <cmath>
#include <functional>

#include <gtest/gtest.h>

#include "base/index.hpp"
#include "plan/check_shop_plan.hpp"
#include "plan/improve_plan.hpp"
#include "plan/load.hpp"
#include "plan/pin_task.hpp"
#include "plan/place_work.hpp"
#include "plan/plan_changes.hpp"
#include "plan/workshop_cases.hpp"

// Work that takes several people at one moment. Everything in here is invented.
namespace rollwright::plan {
namespace {

using namespace cases;

void expect_to_hold(const PlanInput& input, const ShopPlan& plan) {
  for (const std::string& wrong : check_shop_plan(input, plan)) ADD_FAILURE() << wrong;
}

ShopPlan planned(const PlanInput& input) {
  auto plan = make_plan(input);
  EXPECT_TRUE(plan) << plan.error().sentence;
  if (!plan) return {};
  expect_to_hold(input, *plan);
  return *plan;
}

std::string refusal(const PlanInput& input) {
  const Problems problems = problems_of(input);
  return problems.empty() ? "" : problems.front().sentence;
}

TEST(Hands, WhoeverIsThereLendsOneWhateverTheirSkill) {
  Lift shop;
  const ShopPlan plan = planned(shop.input);
  const PlannedTask& lift = plan.tasks[at(shop.lift)];
  EXPECT_EQ(lift.person, shop.ada);
  EXPECT_EQ(lift.lending, person_bit(shop.kim));
  // By hand: Ada works until 10:40; Kim, who has nothing to do, waits for her.
  EXPECT_EQ(lift.segments, (std::vector<Window>{{minute(0, 10, 40), minute(0, 11)}}));
}

TEST(Hands, WaitForWhoIsBusyAndSaySo) {
  Lift shop;
  shop.keep_kim_busy();
  const ShopPlan plan = planned(shop.input);
  EXPECT_EQ(plan.tasks[at(shop.lift)].start(), minute(0, 10, 40));
  const auto& holds = plan.orders[1].bound_by;
  ASSERT_EQ(holds.size(), 2u);
  EXPECT_EQ(holds[1].kind, HoldKind::kHands);
  EXPECT_EQ(holds[1].minutes, 100);
  EXPECT_EQ(in_words(shop.input, holds[1]), "a second pair of hands");
}

TEST(Hands, AreThereInOneGoBetweenTheBreaksOfAll) {
  Lift shop;
  // Kim is there from 12:20 to 15:00 only: ten minutes before Ada's break are too few.
  shop.input.people[at(shop.kim)].hours = {{minute(0, 12, 20), minute(0, 15)}};
  const ShopPlan plan = planned(shop.input);
  EXPECT_EQ(plan.tasks[at(shop.lift)].segments,
            (std::vector<Window>{{minute(0, 13), minute(0, 13, 20)}}));
}

TEST(Hands, CountAsBusyTime) {
  Lift shop;
  ShopPlan plan = planned(shop.input);
  const auto weeks = load_by_week(shop.input, plan, 1);
  ASSERT_TRUE(weeks);
  EXPECT_NEAR(weeks->front().planned[at(shop.ada)], 2, 1e-9);
  EXPECT_NEAR(weeks->front().planned[at(shop.kim)], 1.0 / 3, 1e-9);
  // In the week both have 42 1/2 hours: 70 minutes each would be even.
  EXPECT_NEAR(plan.score.uneven_hours, 50.0 / 60, 1e-9);
}

TEST(Hands, WhoLentOneDoesNotCheckTheWork) {
  PlanInput input = empty_shop();
  const int sol = add_person(input, "Sol", kMechanic | kSenior);
  add_person(input, "Ada", kMechanic);
  const int ida = add_person(input, "Ida", kMechanic | kSenior);
  const int order = add_order(input, "118");
  const int build = add_task(input, order, 60);
  input.tasks.back().hands = 2;
  const int audit = add_task(input, order, 15, {build});
  input.tasks.back().any_of = kSenior;
  input.tasks.back().not_by_doer_of = {build};
  const ShopPlan plan = planned(input);
  const std::uint64_t built = plan.tasks[at(build)].people();
  EXPECT_EQ(std::popcount(built & (person_bit(sol) | person_bit(ida))), 1);
  EXPECT_EQ(built & person_bit(plan.tasks[at(audit)].person), 0u);
  input.tasks[at(build)].hands = 3;
  EXPECT_NE(refusal(input).find("no second person"), std::string::npos) << refusal(input);
}

TEST(Hands, EveryRefusalSaysWhatIsWrong) {
  const auto expect = [](const std::function<void(Lift&)>& spoil, std::string_view what) {
    Lift shop;
    spoil(shop);
    const std::string sentence = refusal(shop.input);
    EXPECT_NE(sentence.find("119"), std::string::npos) << sentence;
    EXPECT_NE(sentence.find(what), std::string::npos) << sentence;
  };
  const auto freeze = [](Lift& shop, Assignment where) {
    shop.input.tasks[at(shop.lift)].previous = where;
    shop.input.tasks[at(shop.lift)].pinned = true;
  };
  const std::uint64_t kim = 2;
  expect([](Lift& s) { s.input.tasks[1].hands = 0; }, "1 to 4 pairs of hands");
  expect([](Lift& s) { s.input.tasks[1].hands = 5; }, "1 to 4 pairs of hands");
  expect([](Lift& s) { s.input.tasks[1].hands = 3; }, "takes 3 people at once, and 2 in the shop");
  expect([](Lift& s) { s.input.people[1].skills = 0; }, "and 1 in the shop can lend a hand");
  expect([](Lift& s) { s.input.people[1].hours = {{minute(1, 12, 20), minute(1, 12, 50)}}; },
         "are there together for no more than 10");
  expect([&](Lift& s) { freeze(s, {0, minute(0, 10), 0}); }, "frozen with 1");
  expect([&](Lift& s) { freeze(s, {0, minute(0, 10), 1}); }, "frozen with 2");
  expect([&](Lift& s) { freeze(s, {0, minute(0, 10), 8}); }, "nobody the shop has");
  expect([&](Lift& s) { freeze(s, {0, minute(0, 12, 20), kim}); }, "Ada is not there all through");
  expect(
      [&](Lift& s) {
        freeze(s, {0, minute(0, 10), kim});
        s.input.people[1].hours.erase(s.input.people[1].hours.begin());
      },
      "Kim is not there all through");
  expect(
      [&](Lift& s) {
        freeze(s, {0, minute(0, 10), kim});
        s.input.tasks[0].previous = {1, minute(0, 10, 10)};
        s.input.tasks[0].pinned = true;
        s.input.tasks[0].any_of = kWheels;
      },
      "both frozen for Kim");
}

TEST(Hands, APinFindsThemOrSaysWhyNot) {
  Lift shop;
  const int bo = add_person(shop.input, "Bo", kMechanic | kWheels);
  const ShopPlan plan = planned(shop.input);
  const Assignment where{shop.ada, minute(1, 10)};
  auto pinned = pinned_by_hand(shop.input, plan, shop.lift, where);
  ASSERT_TRUE(pinned) << pinned.error().sentence;
  EXPECT_EQ(pinned->tasks[at(shop.lift)].previous->lending, person_bit(shop.kim));
  // Who was named lends one as long as they can; then somebody else does.
  const Assignment with_bo{shop.ada, minute(1, 10), person_bit(bo)};
  pinned = pinned_by_hand(shop.input, plan, shop.lift, with_bo);
  ASSERT_TRUE(pinned);
  EXPECT_EQ(pinned->tasks[at(shop.lift)].previous->lending, person_bit(bo));
  PlanInput away = shop.input;
  away.people[at(bo)].hours.clear();
  pinned = pinned_by_hand(away, plan, shop.lift, with_bo);
  ASSERT_TRUE(pinned);
  EXPECT_EQ(pinned->tasks[at(shop.lift)].previous->lending, person_bit(shop.kim));
  // Rather who is free in the plan than who would have to be moved.
  PlanInput busy = shop.input;
  busy.tasks[at(shop.before)].any_of = kWheels;
  busy.tasks[at(shop.before)].previous.reset();
  busy.tasks[at(shop.before)].pinned = false;
  const ShopPlan busy_plan = planned(busy);
  const int with = busy_plan.tasks[at(shop.before)].person;
  pinned = pinned_by_hand(busy, busy_plan, shop.lift, {shop.ada, minute(0, 9)});
  ASSERT_TRUE(pinned) << pinned.error().sentence;
  EXPECT_EQ(pinned->tasks[at(shop.lift)].previous->lending & person_bit(with), 0u);
  // Nobody is there.
  away.people[at(shop.kim)].hours = {{minute(0, 9), minute(0, 12)}};
  const auto refused = pinned_by_hand(away, planned(away), shop.lift, where);
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().sentence,
            "119 1 takes 2 people at once, and on Tuesday 5 January at 10:00 not so many are "
            "there all through it and free of work that does not move");
  const auto unable = pinned_by_hand(shop.input, plan, shop.lift, {shop.kim, minute(1, 10)});
  ASSERT_FALSE(unable);
  EXPECT_NE(unable.error().sentence.find("lacks the skill"), std::string::npos);
}

TEST(Hands, ThePlanSaysWhoElseLendsOneAndWhy) {
  Lift shop;
  const int bo = add_person(shop.input, "Bo", kWheels | kSenior);
  ShopPlan plan = planned(shop.input);
  ASSERT_EQ(plan.tasks[at(shop.lift)].lending, person_bit(shop.kim));
  PlanInput next = with_frozen_start(shop.input, plan, 0);
  next.frozen_until = 0;
  EXPECT_TRUE(what_changed(next, planned(next)).hands.empty());
  next.people[at(shop.kim)].hours.clear();
  plan = planned(next);
  const PlanChanges changes = what_changed(next, plan);
  EXPECT_TRUE(changes.tasks.empty()) << "person and day are the same";
  ASSERT_EQ(changes.hands.size(), 1u);
  EXPECT_EQ(changes.hands[0].was, person_bit(shop.kim));
  EXPECT_EQ(changes.hands[0].is, person_bit(bo));
  EXPECT_EQ(plan.score.moved, 0);
  // With nobody else on that day it moves, and Kim's absence is why.
  next.people[at(bo)].hours = {{minute(2, 9), minute(2, 12)}};
  const PlanChanges moved = what_changed(next, planned(next));
  ASSERT_EQ(moved.tasks.size(), 1u);
  EXPECT_EQ(moved.tasks[0].because.front(), (Cause{CauseKind::kAbsent, shop.kim}));
  // A plan made before it took two.
  next.tasks[at(shop.lift)].previous->lending = 0;
  EXPECT_EQ(what_changed(next, planned(next)).tasks.at(0).because.front().kind,
            CauseKind::kLendingShort);
}

TEST(Hands, TheCheckerFindsEveryKindOfCorruption) {
  struct Spoilt {
    std::string_view expected;
    std::function<void(Lift&, PlannedTask&)> spoil;
  };
  const std::vector<Spoilt> cases = {
      {"takes 2 people at once and has 1", [](Lift&, PlannedTask& lift) { lift.lending = 0; }},
      {"takes 1 people at once and has 2",
       [](Lift& s, PlannedTask&) { s.input.tasks[1].hands = 1; }},
      {"takes 3 people at once and has 2",
       [](Lift& s, PlannedTask&) { s.input.tasks[1].hands = 3; }},
      {"who is to lend a hand as well", [](Lift&, PlannedTask& lift) { lift.lending = 1; }},
      {"somebody unknown", [](Lift&, PlannedTask& lift) { lift.lending = 1ULL << 63; }},
      {"without any skill", [](Lift& s, PlannedTask&) { s.input.people[1].skills = 0; }},
      {"Kim lends a hand at 119 1 but is not there at minute 659",
       [](Lift& s, PlannedTask&) { s.input.people[1].hours.front().to = minute(0, 10, 59); }},
      {"Kim lends a hand at 119 1 but is not there at minute 640",
       [](Lift& s, PlannedTask&) { s.input.people[1].hours.front().from = minute(0, 10, 41); }},
      {"Kim does two things at once",
       [](Lift& s, PlannedTask&) { s.keep_kim_busy(); }},
      {"frozen but others lend a hand",
       [](Lift& s, PlannedTask& lift) {
         add_person(s.input, "Bo", kWheels);
         s.input.tasks[1].previous = {0, lift.start(), 4};
         s.input.tasks[1].pinned = true;
       }},
      {"needs another person",
       [](Lift& s, PlannedTask&) { s.input.tasks[1].not_by_doer_of = {0}; }},
      {"done in one go but is interrupted",
       [](Lift&, PlannedTask& lift) {
         lift.segments = {{minute(0, 12, 20), minute(0, 12, 30)},
                          {minute(0, 13), minute(0, 13, 10)}};
       }},
      {"the score", [](Lift&, PlannedTask& lift) { lift.lending = 0; }},
  };
  for (const Spoilt& spoilt : cases) {
    Lift shop;
    ShopPlan plan = planned(shop.input);
    if (spoilt.expected == "Kim does two things at once") {
      plan.tasks[0].person = shop.kim;
      plan.tasks[0].segments = {{minute(0, 9, 20), minute(0, 11)}};
    }
    if (spoilt.expected == "needs another person") {
      plan.tasks[0].person = shop.kim;
      plan.tasks[0].lending = 1;
    }
    spoilt.spoil(shop, plan.tasks[1]);
    std::string said;
    for (const std::string& line : check_shop_plan(shop.input, plan)) said += line + "\n";
    EXPECT_NE(said.find(spoilt.expected), std::string::npos)
        << "expected: " << spoilt.expected << "\nsaid: " << said;
  }
}

// Brute force: one task among work that is frozen, every doer, every party, every minute.

bool is_free(const PlanInput& input, const ShopPlan& frozen, int person, const Window& span) {
  const bool there = std::ranges::any_of(input.people[at(person)].hours, [&](const Window& hours) {
    return hours.from <= span.from && span.to <= hours.to;
  });
  return there && std::ranges::none_of(frozen.tasks, [&](const PlannedTask& other) {
    return other.placed() && (other.people() & person_bit(person)) != 0 &&
           other.start() < span.to && span.from < other.end();
  });
}

int stands_taken(const PlanInput& input, const ShopPlan& frozen, int area, int minute_) {
  int taken = 0;
  for (const PlannedTask& other : frozen.tasks) {
    const bool there = other.placed() && other.start() <= minute_ && minute_ < other.end();
    if (there && input.tasks[at(other.task)].area == area) ++taken;
  }
  return taken;
}

/// The first end of the last task in one go by anybody with the skill and any party.
int soonest_end(const PlanInput& input, const ShopPlan& frozen) {
  const Task& task = input.tasks.back();
  const int people = static_cast<int>(input.people.size());
  int soonest = kNever;
  for (std::uint64_t party = 1; party < 1ULL << people; ++party) {
    if (std::popcount(party) != task.hands) continue;
    for (int doer = 0; doer < people; ++doer) {
      const Person& who = input.people[at(doer)];
      if ((party & person_bit(doer)) == 0 || (who.skills & task.any_of) == 0) continue;
      const Disturbance& odds = input.disturbance;
      const double share = who.productive * (1 - (odds.walk_in_least + odds.walk_in_most) / 2);
      const int length = std::max(1, static_cast<int>(std::ceil(task.minutes / share - 1e-9)));
      for (int start = input.now; start + length < input.days * kMinutesPerDay; ++start) {
        const Window span{start, start + length};
        if (span.to >= soonest) break;
        bool fits = true;
        for (int person = 0; person < people && fits; ++person) {
          if ((party & person_bit(person)) != 0) fits = is_free(input, frozen, person, span);
        }
        for (int minute_ = span.from; minute_ < span.to && fits; ++minute_) {
          const int taken = stands_taken(input, frozen, task.area, minute_);
          fits = taken < input.areas[at(task.area)].stands;
        }
        if (fits) soonest = span.to;
      }
    }
  }
  return soonest;
}

TEST(Hands, EndAsSoonAsAnyPartyCould) {
  Random random(51);
  int found = 0;
  int by_three = 0;
  for (int round = 0; round < 120; ++round) {
    SCOPED_TRACE(round);
    PlanInput input = random_workshop(random, {.orders = 3, .tasks_per_order = 5, .days = 10});
    add_hands(random, input);
    const auto plan = make_plan(input, {.rounds = 1});
    ASSERT_TRUE(plan);
    PlanInput busy = with_frozen_start(input, *plan, 10);
    // What found no room is left out.
    for (const PlannedTask& placed : plan->tasks) {
      if (!placed.placed()) busy.tasks[at(placed.task)].done = true;
    }
    const int order = add_order(busy, "new");
    add_task(busy, order, 5 + static_cast<int>(random.below(90)));
    Task& task = busy.tasks.back();
    task.area = static_cast<int>(random.below(busy.areas.size()));
    task.any_of = random.below(2) == 0 ? kMechanic : kSenior;
    task.hands = 2 + static_cast<int>(random.below(2));
    if (!problems_of(busy).empty()) continue;
    const Shopfloor floor(busy, 0.8);
    WorkPlacer placer(floor, 0);
    ShopPlan frozen{.tasks = placer.placed()};
    placer.put(static_cast<int>(busy.tasks.size()) - 1);
    const Spot& spot = placer.spots().back();
    const int soonest = soonest_end(busy, frozen);
    EXPECT_EQ(spot.person < 0 ? kNever : spot.end, soonest);
    if (soonest < kNever) ++found;
    if (task.hands == 3 && soonest < kNever) ++by_three;
  }
  EXPECT_GT(found, 60);
  EXPECT_GT(by_three, 10);
}

TEST(Hands, EveryRandomPlanPassesTheIndependentCheck) {
  Random random(52);
  int together = 0;
  for (int round = 0; round < 60; ++round) {
    SCOPED_TRACE(round);
    PlanInput input = random_workshop(random, {.orders = 6});
    together += add_hands(random, input);
    const ShopPlan plan = planned(input);
    PlanInput next = with_frozen_start(input, plan, 2);
    if (random.below(2) == 0) {
      std::vector<Window>& hours = next.people.back().hours;
      std::erase_if(hours, [](const Window& window) { return window.from < minute(4, 0); });
      if (!problems_of(next).empty()) next = with_frozen_start(input, plan, 2);
    }
    const auto improved = improve_plan(next, {.placements = 4'000});
    ASSERT_TRUE(improved) << improved.error().sentence;
    expect_to_hold(next, improved->plan);
    const PlanChanges changes = what_changed(next, improved->plan);
    for (const TaskChange& change : changes.tasks) EXPECT_FALSE(change.because.empty());
    if (HasFailure()) return;
  }
  EXPECT_GT(together, 150);
}

TEST(Hands, ReplanningTheSameShopMovesNothing) {
  Random random(53);
  for (int round = 0; round < 15; ++round) {
    PlanInput input = random_workshop(random, {.orders = 5});
    add_hands(random, input);
    const ShopPlan plan = planned(input);
    PlanInput next = with_frozen_start(input, plan, 0);
    next.frozen_until = 0;
    for (Task& task : next.tasks) task.pinned = task.previous.has_value();
    for (Arrival& arrival : next.arrivals) arrival.known = next.first_day - std::chrono::days(1);
    const ShopPlan again = planned(next);
    EXPECT_EQ(again.score.moved, 0);
    EXPECT_TRUE(what_changed(next, again).hands.empty());
  }
}

TEST(Hands, PinsOfRandomTasksHoldOrAreRefusedInWords) {
  Random random(54);
  int pinned_count = 0;
  for (int round = 0; round < 120; ++round) {
    SCOPED_TRACE(round);
    PlanInput input = random_workshop(random, {.orders = 4});
    for (Arrival& arrival : input.arrivals) arrival.known = monday() - std::chrono::days(1);
    add_hands(random, input);
    const ShopPlan plan = planned(input);
    const auto task = static_cast<int>(random.below(input.tasks.size()));
    if (input.tasks[at(task)].hands == 1) continue;
    const PlannedTask& placed = plan.tasks[at(task)];
    if (!placed.placed()) continue;
    const int later = static_cast<int>(random.below(3)) * kMinutesPerDay;
    const Assignment where{placed.person, placed.start() + later};
    const auto pinned = pinned_by_hand(input, plan, task, where);
    if (!pinned) {
      EXPECT_GT(pinned.error().sentence.size(), 20u);
      continue;
    }
    ++pinned_count;
    const ShopPlan with = planned(*pinned);
    EXPECT_EQ(with.tasks[at(task)].start(), where.start);
    EXPECT_EQ(with.tasks[at(task)].person, where.person);
  }
  EXPECT_GT(pinned_count, 10);
}

}  // namespace
}  // namespace rollwright::plan
