#include "plan/promise.hpp"

#include <cmath>

#include <fmt/format.h>
#include <gtest/gtest.h>

#include "plan/promised_test.hpp"
#include "plan/workshop_cases.hpp"

namespace rollwright::plan {
namespace {

using namespace cases;

/// One order, one mechanic, one short task that waits for the given parts.
PlanInput waiting_for(const std::vector<trade::Spread>& parts, int days = 200) {
  PlanInput input = empty_shop(days);
  input.delivery_minute = 9 * 60;
  add_person(input, "Ada", kMechanic);
  const int task = add_task(input, add_order(input, "118"), 1);
  for (std::size_t part = 0; part < parts.size(); ++part) {
    const int arrival = add_arrival(input, fmt::format("part {}", part), parts[part]);
    input.tasks[static_cast<std::size_t>(task)].parts.push_back(arrival);
  }
  return input;
}

double probability_by(const Promise& promise, Day day) {
  double probability = 0;
  for (const CurvePoint& point : promise.curve) {
    if (point.day <= day) probability = point.probability;
  }
  return probability;
}

/// Index of the day of readiness among carrier days after Monday: 1 is Tuesday.
int working_day(int minute) {
  const int day = minute / kMinutesPerDay;
  return day / 7 * 5 + day % 7;
}

TEST(Promise, IsCertainWhenNothingIsUncertain) {
  // By hand: 600 minutes from Monday 9:00 with 510 a day; 90 are left for Tuesday, until 10:30.
  PlanInput input = empty_shop();
  add_person(input, "Ada", kMechanic);
  add_task(input, add_order(input, "118"), 600);
  const Promise promise = promised(input, 0, {.draws = 50});
  ASSERT_EQ(promise.curve.size(), 1u);
  EXPECT_EQ(promise.day_50, monday() + std::chrono::days(1));
  EXPECT_EQ(promise.day_95, monday() + std::chrono::days(1));
  for (const int minute_ : promise.ready_minutes) EXPECT_EQ(minute_, minute(1, 10, 30));
  ASSERT_EQ(promise.held_by.size(), 1u);
  EXPECT_EQ(promise.held_by[0].hold.kind, HoldKind::kWork);
  EXPECT_EQ(promise.held_by[0].draws, 50);
  EXPECT_EQ(promise.placements, 50);
}

TEST(Promise, FollowsTheQuantilesOfASingleArrival) {
  // Ready on the arrival's day, so the curve is its distribution: least 2, median 5, sigma 0.5.
  const trade::Spread hub{.least = 2, .median = 5, .sigma = 0.5};
  const Promise promise = promised(waiting_for({hub}), 0, {.draws = 20000});
  for (const int days : {5, 7, 9, 12, 15}) {
    // P(2 + 5 exp(z/2) <= days) = Phi(2 ln((days - 2) / 5)): the lognormal distribution.
    const double expected = 0.5 * std::erfc(-2 * std::log((days - 2) / 5.0) / std::sqrt(2.0));
    int by_then = 0;
    for (const int minute_ : promise.ready_minutes) by_then += working_day(minute_) <= days;
    const double sigma = std::sqrt(expected * (1 - expected) / 20000);
    EXPECT_NEAR(by_then / 20000.0, expected, 4 * sigma) << days;
  }
  EXPECT_EQ(promise.held_by.front().hold.kind, HoldKind::kArrival);
  EXPECT_EQ(promise.held_by.front().draws, 20000);
}

TEST(Promise, AKitOfManyPartsIsCompleteWithTheProductOfTheirProbabilities) {
  // Textbook rule for independent events: n parts, each there with p by a day, all with p^n.
  const trade::Spread part{.median = 5, .sigma = 0.4};
  constexpr int kDraws = 20000;
  const int day = 8;
  const double single = 0.5 * std::erfc(-std::log(day / 5.0) / 0.4 / std::sqrt(2.0));
  for (const int parts : {1, 2, 5, 12, 30}) {
    const PlanInput input =
        waiting_for(std::vector<trade::Spread>(static_cast<std::size_t>(parts), part));
    const Promise promise = promised(input, 0, {.draws = kDraws, .seed = 4});
    const double all = std::pow(single, parts);
    const Day eighth = monday() + std::chrono::days(10);  // carrier day after the first Monday
    const double found = probability_by(promise, eighth);
    EXPECT_NEAR(found, all, 3 * std::sqrt(all * (1 - all) / kDraws)) << parts << " parts";
  }
}

TEST(Promise, ATableOfOddsIsMetDayByDay) {
  PlanInput input = waiting_for({{.median = 99}});
  input.arrivals[0].by = std::make_shared<const std::vector<double>>(
      std::vector<double>{0, 0.1, 0.1, 0.6, 0.9});
  const Promise promise = promised(input, 0, {.draws = 20000});
  // Tuesday is the first carrier day; a tenth comes later than the table reaches.
  EXPECT_NEAR(probability_by(promise, monday() + std::chrono::days(1)), 0.1, 0.01);
  EXPECT_NEAR(probability_by(promise, monday() + std::chrono::days(2)), 0.1, 0.01);
  EXPECT_NEAR(probability_by(promise, monday() + std::chrono::days(3)), 0.6, 0.015);
  EXPECT_NEAR(promise.past_horizon, 2000, 170);
}

TEST(Promise, PartsLateTogetherAreThereTogether) {
  // Two standard normals with correlation r lie both below their middle with 1/4 + asin(r) / (2 pi)
  // (Sheppard 1899, from memory): 1/4 for none, 1/3 for a half.
  const trade::Spread part{.median = 4, .sigma = 0.5};  // four carrier days: Friday
  constexpr int kDraws = 20000;
  const Day middle = monday() + std::chrono::days(4);
  for (const auto& [correlation, expected] : std::vector<std::pair<double, double>>{
           {0, 0.25}, {0.5, 1.0 / 3}, {0.9, 0.25 + std::asin(0.9) / 6.283185307}}) {
    PlanInput input = waiting_for({part, part});
    for (Arrival& arrival : input.arrivals) {
      arrival.together = "Nordal";
      arrival.correlation = correlation;
    }
    const double found = probability_by(promised(input, 0, {.draws = kDraws, .seed = 6}), middle);
    EXPECT_NEAR(found, expected, 0.014) << correlation;  // four standard errors
  }
}

TEST(Promise, ShowsTheMergeBiasOfNormalOrderStatistics) {
  // Expected greatest of n standard normals: 0.5642, 0.8463, 1.0294, 1.1630 for n = 2 to 5 and
  // 1.5388 for n = 10 (order statistics, e.g. Harter 1961, from memory). Arrivals are lognormal, so
  // normals are read back from the days: with sigma 0.05 rounding up to days of 1/20 sigma is seen
  // as half a day on average.
  constexpr double kMedian = 400;
  constexpr double kSigma = 0.05;
  constexpr int kDraws = 4000;
  const std::vector<std::pair<int, double>> table = {
      {1, 0}, {2, 0.5642}, {3, 0.8463}, {4, 1.0294}, {5, 1.1630}, {10, 1.5388}};
  for (const auto& [parts, expected] : table) {
    const trade::Spread part{.median = kMedian, .sigma = kSigma};
    const PlanInput input =
        waiting_for(std::vector<trade::Spread>(static_cast<std::size_t>(parts), part), 800);
    const Promise promise = promised(input, 0, {.draws = kDraws, .seed = 8});
    double sum = 0;
    for (const int minute_ : promise.ready_minutes) {
      sum += std::log((working_day(minute_) - 0.5) / kMedian) / kSigma;
    }
    // The greatest of n varies less than one normal: 4 standard errors of that, and the rounding.
    EXPECT_NEAR(sum / kDraws, expected, 4 / std::sqrt(kDraws) + 0.005) << parts << " parts";
  }
}

TEST(Promise, NamesThePartThatHoldsTheBike) {
  // The slow part is later than the quick one in nearly all draws; both are held in the rest.
  const Promise promise = promised(
      waiting_for({{.median = 2, .sigma = 0.1}, {.median = 12, .sigma = 0.2}}), 0);
  EXPECT_EQ(promise.held_by.front().hold.kind, HoldKind::kArrival);
  EXPECT_EQ(promise.held_by.front().hold.key, 1u);
  EXPECT_EQ(promise.held_by.front().draws, 2000);
  EXPECT_GT(promise.held_by.front().hold.minutes, 11 * kMinutesPerDay);
}

TEST(Promise, NamesTheQueueForAnotherBikesWork) {
  PlanInput input = empty_shop();
  add_person(input, "Ada", kMechanic);
  add_task(input, add_order(input, "118"), 1000);
  input.orders[0].due = monday();
  add_task(input, add_order(input, "119"), 60);
  const Promise promise = promised(input, 1, {.draws = 10});
  EXPECT_EQ(promise.held_by.front().hold.kind, HoldKind::kPeople);
  EXPECT_EQ(in_words(input, promise.held_by.front().hold), "somebody free: mechanic");
}

TEST(Promise, HoldsOfADrawAddUpToTheTimeUntilReady) {
  Random random(31);
  for (int round = 0; round < 40; ++round) {
    const PlanInput input = random_workshop(random, {.orders = 5, .days = 90});
    for (int order = 0; order < 5; ++order) {
      const auto found = promise(input, order, {.draws = 1});
      if (!found || found->past_horizon > 0) continue;
      int sum = 0;
      for (const Holder& holder : found->held_by) sum += holder.hold.minutes;
      EXPECT_EQ(sum, found->ready_minutes[0] - input.now) << "round " << round;
    }
  }
}

TEST(Promise, AnEarlierArrivalIsNeverLaterForASingleChain) {
  Random random(32);
  for (int round = 0; round < 60; ++round) {
    PlanInput input = empty_shop(120);
    add_person(input, "Ada", kMechanic, 0.7);
    input.disturbance = {.sick = 0.05, .walk_in_least = 0.1, .walk_in_most = 0.4};
    const int order = add_order(input, "118");
    for (int step = 0; step < 6; ++step) {
      const int task = add_task(input, order, 30 + static_cast<int>(random.below(200)),
                                step > 0 ? std::vector<int>{step - 1} : std::vector<int>{});
      Task& what = input.tasks[static_cast<std::size_t>(task)];
      what.spread = {.median = what.minutes, .sigma = 0.4};
      if (random.below(2) == 0) what.unattended = static_cast<int>(random.below(600));
      if (what.minutes < 100 && random.below(2) == 0) what.pause = Pause::kWithinDay;
      what.parts = {add_arrival(input, fmt::format("part {}", step),
                                {.median = 1 + 8 * random.uniform(), .sigma = 0.5})};
    }
    PlanInput sooner = input;
    sooner.arrivals[random.below(6)].working_days.median *= random.uniform();
    const Promise as_is = promised(input, order, {.draws = 100});
    const Promise other = promised(sooner, order, {.draws = 100});
    for (std::size_t draw = 0; draw < 100; ++draw) {
      ASSERT_GE(as_is.ready_minutes[draw], 0);
      ASSERT_GE(other.ready_minutes[draw], 0);
      EXPECT_LE(other.ready_minutes[draw], as_is.ready_minutes[draw]);
    }
  }
}

TEST(Promise, AnotherLikePairOfHandsIsNeverLaterForASingleChain) {
  // Nobody is sick and there are no walk-ins, so that the second is as quick as the first.
  PlanInput input = empty_shop(60);
  add_person(input, "Ada", kMechanic);
  const int order = add_order(input, "118");
  for (int step = 0; step < 6; ++step) {
    add_task(input, order, 200, step > 0 ? std::vector<int>{step - 1} : std::vector<int>{});
    input.tasks.back().spread = {.median = 200, .sigma = 0.5};
  }
  add_task(input, add_order(input, "119"), 900);
  input.orders[1].due = monday();  // somebody else's bike keeps Ada busy first
  PlanInput more = input;
  add_person(more, "Bo", kMechanic);
  const Promise as_is = promised(input, order, {.draws = 300});
  const Promise other = promised(more, order, {.draws = 300});
  for (std::size_t draw = 0; draw < 300; ++draw) {
    EXPECT_LE(other.ready_minutes[draw], as_is.ready_minutes[draw]);
  }
  const auto bought = gain(as_is, other);
  ASSERT_TRUE(bought);
  EXPECT_GT(bought->mean_days, 0);
  EXPECT_EQ(bought->share_later, 0);
}

TEST(Promise, AnEarlierPartMayMakeABikeLater) {
  // Graham's anomaly, small enough for the hand. One mechanic. A short step H gives a day of
  // charging; a long step L does not. Without the early part H goes first and both end soon;
  // with it L (which ranks behind H) is begun before H can, and H waits for it.
  PlanInput input = empty_shop();
  add_person(input, "Ada", kMechanic);
  const int order = add_order(input, "118");
  const int charge = add_task(input, order, 60);
  input.tasks.back().unattended = 3000;
  input.tasks.back().parts = {add_arrival(input, "battery", {})};
  const int box = add_task(input, order, 500);
  input.tasks.back().parts = {add_arrival(input, "box", {})};
  static_cast<void>(charge);
  static_cast<void>(box);
  input.arrivals[0].known = monday();
  input.arrivals[1].known = monday();
  PlanInput sooner = input;
  sooner.arrivals[1].known = monday() - std::chrono::days(1);
  const Promise as_is = promised(input, order, {.draws = 1});
  const Promise other = promised(sooner, order, {.draws = 1});
  EXPECT_GT(other.ready_minutes[0], as_is.ready_minutes[0]);
}

TEST(Promise, ABleedThatDrawsLongerThanADayIsStillDone) {
  PlanInput input = empty_shop(60);
  add_person(input, "Ada", kMechanic, 0.6);
  input.disturbance = {.sick = 0.1, .walk_in_least = 0.1, .walk_in_most = 0.5};
  add_task(input, add_order(input, "118"), 80);
  input.tasks.back().spread = {.median = 80, .sigma = 1};
  for (const Pause pause : {Pause::kWithinDay, Pause::kNever}) {
    input.tasks.back().pause = pause;
    // By hand: on a day of many walk-ins Ada does 0.3 a minute, so her afternoon of 300 gives 90.
    // Longer draws are cut to that, and Monday always suffices.
    const Promise promise = promised(input, 0, {.draws = 1000});
    ASSERT_EQ(promise.curve.size(), 1u);
    EXPECT_EQ(promise.curve[0].day, monday());
    EXPECT_EQ(promise.past_horizon, 0);
  }
}

TEST(Promise, QuantilesAndCurveNeverFall) {
  Random random(33);
  for (int round = 0; round < 20; ++round) {
    const PlanInput input = random_workshop(random, {.orders = 5, .days = 90});
    for (int order = 0; order < 5; ++order) {
      const auto found = promise(input, order, {.draws = 200});
      if (!found) continue;
      const Day never = monday() + std::chrono::days(1000);
      EXPECT_LE(found->day_50.value_or(never), found->day_80.value_or(never));
      EXPECT_LE(found->day_80.value_or(never), found->day_90.value_or(never));
      EXPECT_LE(found->day_90.value_or(never), found->day_95.value_or(never));
      double before = 0;
      for (const CurvePoint& point : found->curve) {
        EXPECT_GT(point.probability, before);
        before = point.probability;
      }
      EXPECT_NEAR(before, 1 - found->past_horizon / 200.0, 1e-12);
      int holds = 0;
      for (const Holder& holder : found->held_by) holds += holder.draws;
      EXPECT_EQ(holds, 200 - found->past_horizon);
    }
  }
}

void expect_same_bytes(const Promise& a, const Promise& b) {
  EXPECT_EQ(a.ready_minutes, b.ready_minutes);
  EXPECT_EQ(a.placements, b.placements);
  ASSERT_EQ(a.curve.size(), b.curve.size());
  for (std::size_t point = 0; point < a.curve.size(); ++point) {
    EXPECT_EQ(a.curve[point].day, b.curve[point].day);
    EXPECT_EQ(a.curve[point].probability, b.curve[point].probability);
  }
  ASSERT_EQ(a.held_by.size(), b.held_by.size());
  for (std::size_t holder = 0; holder < a.held_by.size(); ++holder) {
    EXPECT_EQ(a.held_by[holder].hold.kind, b.held_by[holder].hold.kind);
    EXPECT_EQ(a.held_by[holder].hold.key, b.held_by[holder].hold.key);
    EXPECT_EQ(a.held_by[holder].hold.minutes, b.held_by[holder].hold.minutes);
    EXPECT_EQ(a.held_by[holder].draws, b.held_by[holder].draws);
    EXPECT_EQ(a.held_by[holder].draws_on_chain, b.held_by[holder].draws_on_chain);
  }
}

TEST(Promise, IsTheSameForAnyNumberOfThreads) {
  Random random(34);
  const PlanInput input = random_workshop(random, {.orders = 8, .days = 90});
  std::vector<int> orders;
  for (int order = 0; order < 8; ++order) {
    if (promise(input, order, {.draws = 1})) orders.push_back(order);
  }
  ASSERT_GT(orders.size(), 2u);
  const auto one = promises(input, orders, {.draws = 333, .threads = 1});
  ASSERT_TRUE(one);
  for (const int threads : {2, 3, 7}) {
    const auto many = promises(input, orders, {.draws = 333, .threads = threads});
    ASSERT_TRUE(many);
    for (std::size_t asked = 0; asked < orders.size(); ++asked) {
      expect_same_bytes((*one)[asked], (*many)[asked]);
    }
  }
}

TEST(Promise, AskingForOneOrderOrAllGivesTheSameDays) {
  Random random(35);
  const PlanInput input = random_workshop(random, {.orders = 6, .days = 90});
  std::vector<int> orders;
  for (int order = 0; order < 6; ++order) {
    if (promise(input, order, {.draws = 1})) orders.push_back(order);
  }
  const auto all = promises(input, orders, {.draws = 100});
  ASSERT_TRUE(all);
  for (std::size_t asked = 0; asked < orders.size(); ++asked) {
    const Promise one = promised(input, orders[asked], {.draws = 100});
    EXPECT_EQ(one.ready_minutes, (*all)[asked].ready_minutes);
  }
}

TEST(Promise, AnAlternativeThatChangesNothingGainsNothing) {
  Random random(36);
  const PlanInput input = random_workshop(random, {.orders = 4});
  PlanInput alternative = input;
  alternative.arrivals.push_back({.what = "needed by nobody", .working_days = {.median = 9}});
  for (int order = 0; order < 4; ++order) {
    const auto as_is = promise(input, order, {.draws = 100});
    const auto other = promise(alternative, order, {.draws = 100});
    if (!as_is) continue;
    ASSERT_TRUE(other);
    const auto bought = gain(*as_is, *other);
    ASSERT_TRUE(bought);
    EXPECT_EQ(bought->share_sooner, 0);
    EXPECT_EQ(bought->share_later, 0);
    EXPECT_EQ(bought->mean_days, 0);
  }
}

TEST(Promise, RefusesWhatItCannotPromise) {
  const PlanInput input = waiting_for({{.median = 2}});
  EXPECT_EQ(promise(input, 1).error().code, Code::kNotFound);
  EXPECT_EQ(promise(input, -1).error().code, Code::kNotFound);
  EXPECT_EQ(promise(input, 0, {.draws = 0}).error().code, Code::kOutOfRange);
  EXPECT_EQ(promise(input, 0, {.threads = 0}).error().code, Code::kOutOfRange);
  PlanInput waiting = input;
  waiting.orders[0].released = false;
  EXPECT_EQ(promise(waiting, 0).error().code, Code::kRefused);
  PlanInput done = input;
  done.tasks[0].done = true;
  EXPECT_EQ(promise(done, 0).error().code, Code::kRefused);
  EXPECT_EQ(gain(Promise{}, Promise{}).error().code, Code::kContradiction);
}

TEST(Promise, SaysWhenTheHorizonEndsFirst) {
  const PlanInput input = waiting_for({{.median = 10, .sigma = 0.5}}, 16);
  const Promise promise = promised(input, 0, {.draws = 1000});
  EXPECT_GT(promise.past_horizon, 300);
  EXPECT_FALSE(promise.day_95);
}

}  // namespace
}  // namespace rollwright::plan
