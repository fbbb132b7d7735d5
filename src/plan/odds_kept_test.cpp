#include "plan/odds_kept.hpp"

#include <algorithm>
#include <cmath>

#include <gtest/gtest.h>

#include "base/random.hpp"

namespace rollwright::plan {
namespace {

constexpr double kEighths[] = {0.125, 0.25, 0.375, 0.5, 0.625, 0.75, 0.875, 0.9, 0.95};

/// Places of promises whose odds were true, seen whole.
std::vector<PlaceKept> even_places(int count, Random& random) {
  std::vector<PlaceKept> places;
  for (int i = 0; i < count; ++i) places.push_back({.odds = random.uniform()});
  return places;
}

TEST(OddsKept, SayAsReckonedWithoutARecord) {
  const OddsKept odds;
  for (const double said : kEighths) {
    EXPECT_EQ(odds.kept(said), said);
    EXPECT_EQ(odds.to_ask(said), said);
  }
}

TEST(OddsKept, AreLeftAloneByARecordThatCameOutAsSaid) {
  Random random(3);
  const OddsKept odds(even_places(20000, random));
  // 4 standard errors of a share of 20,000.
  for (const double said : kEighths) {
    EXPECT_NEAR(odds.kept(said), said, 4 * std::sqrt(said * (1 - said) / 20000) + 0.001) << said;
    EXPECT_NEAR(odds.to_ask(said), said, 4 * std::sqrt(said * (1 - said) / 20000) + 0.001) << said;
  }
}

TEST(OddsKept, AskForMoreWhenTheOddsWereTooSure) {
  // By hand: 75 promises each came out where the odds said 80 in 100, with kPriorWeight of 25 even
  // ones: below 0.8 lie 20 of 100, from then on 95 and more; 0.9 is reached with them.
  const OddsKept sure(std::vector<PlaceKept>(75, {.odds = 0.8}));
  EXPECT_NEAR(sure.kept(0.8), 0.20, 0.001);
  EXPECT_NEAR(sure.kept(0.81), 0.9525, 0.001);
  EXPECT_NEAR(sure.to_ask(0.5), 0.8, 0.001);
  const OddsKept late(std::vector<PlaceKept>(75, {.odds = 0.97}));
  EXPECT_NEAR(late.to_ask(0.9), 0.97, 0.001);
  EXPECT_LT(late.kept(0.9), 0.25);
}

TEST(OddsKept, ChangeLittleByFewPromises) {
  // One promise that came out at the very end: 0.9 x 26 of 26 is reached at 23.4 of 25 even ones.
  const OddsKept one(std::vector<PlaceKept>{{.odds = 0.999}});
  EXPECT_NEAR(one.to_ask(0.9), 23.4 / 25, 0.002);
  EXPECT_NEAR(one.kept(0.9), 22.5 / 26, 0.002);
}

TEST(OddsKept, NeverFallAndStayWithinNothingAndCertain) {
  Random random(11);
  for (int round = 0; round < 100; ++round) {
    std::vector<PlaceKept> places;
    const auto count = static_cast<int>(random.below(60));
    for (int i = 0; i < count; ++i) {
      places.push_back({.odds = std::pow(random.uniform(), 1 + random.uniform()),
                        .still_open = random.uniform() < 0.3,
                        .weight = random.uniform()});
    }
    const OddsKept odds(places);
    double before = 0;
    for (int step = 0; step <= 100; ++step) {
      const double kept = odds.kept(step / 100.0);
      EXPECT_GE(kept, before - 1e-12);
      EXPECT_LE(kept, 1);
      before = kept;
      // What is asked for is enough.
      if (step < 100) {
        EXPECT_GE(odds.kept(odds.to_ask(step / 100.0) + 1e-6), step / 100.0 - 1e-6);
      }
    }
    EXPECT_EQ(odds.kept(1), 1);
  }
}

TEST(OddsKept, DoNotTakeTheEarlyFinishersForAll) {
  // Promises whose odds were true, looked at while most are still open: each is ready only if its
  // place lies below the odds of today.
  Random random(5);
  std::vector<PlaceKept> places;
  std::vector<PlaceKept> only_ready;
  for (int i = 0; i < 20000; ++i) {
    const double place = random.uniform();
    const double today = random.uniform();
    const bool open = place > today;
    places.push_back({.odds = open ? today : place, .still_open = open});
    if (!open) only_ready.push_back(places.back());
  }
  const OddsKept odds(places);
  for (const double said : {0.25, 0.5, 0.75, 0.9}) EXPECT_NEAR(odds.kept(said), said, 0.03) << said;
  EXPECT_GT(OddsKept(only_ready).kept(0.5), 0.7);  // what leaving the open ones out would say
}

TEST(OddsKept, WithAllReadyIsThePlainShareWithTheEvenOnes) {
  // The second engine: counting.
  Random random(17);
  for (int round = 0; round < 50; ++round) {
    const auto places = even_places(1 + static_cast<int>(random.below(40)), random);
    const OddsKept odds(places);
    for (const double said : kEighths) {
      const auto below = std::ranges::count_if(places, [&](const PlaceKept& place) {
        return place.odds < said;
      });
      const double share = (static_cast<double>(below) + OddsKept::kPriorWeight * said) /
                           (static_cast<double>(places.size()) + OddsKept::kPriorWeight);
      EXPECT_NEAR(odds.kept(said), share, 0.001);
    }
  }
}

TEST(OddsKept, KeepTheirWordForPromisesThatFollowOneAnother) {
  // Odds that are far too sure: the true place is a power of an even one. Each promise is told with
  // what the earlier ones teach; over the years nine in ten are kept.
  Random random(23);
  std::vector<PlaceKept> places;
  int kept = 0;
  for (int i = 0; i < 1500; ++i) {
    const double asked = OddsKept(places).to_ask(0.9);
    const double place = std::pow(random.uniform(), 0.4);
    if (place < asked) ++kept;
    places.push_back({.odds = place});
  }
  EXPECT_NEAR(kept / 1500.0, 0.9, 0.02);
}

TEST(OddsKept, MoveTheDaysOfAPromise) {
  const Day first = *parse_day("2027-01-04");
  Promise promise;
  for (int day = 1; day <= 100; ++day) {
    promise.curve.push_back({first + std::chrono::days(day), day / 100.0});
  }
  set_days(promise);
  EXPECT_EQ(promise.day_90, first + std::chrono::days(90));
  const Promise same = as_kept(promise, OddsKept());
  EXPECT_EQ(same.day_90, promise.day_90);
  // Three in four came out where 97 in 100 had been said.
  const Promise later = as_kept(promise, OddsKept(std::vector<PlaceKept>(75, {.odds = 0.97})));
  EXPECT_EQ(later.day_90, first + std::chrono::days(98));
  EXPECT_GT(later.day_50, promise.day_50);
  EXPECT_EQ(later.curve.back().probability, 1);
  EXPECT_EQ(said_before(promise.curve, first + std::chrono::days(1)), 0);
  EXPECT_NEAR(said_before(promise.curve, first + std::chrono::days(51)), 0.5, 1e-12);
}

}  // namespace
}  // namespace rollwright::plan
