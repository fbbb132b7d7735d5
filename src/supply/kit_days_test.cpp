#include "supply/kit_days.hpp"

#include <cmath>
#include <numeric>
#include <vector>

#include <gtest/gtest.h>

#include "base/random.hpp"

namespace rollwright::supply {
namespace {

using Table = std::vector<double>;

/// A delivery with a middle and a tail, as chances by day.
Table some_table(Random& random, int longest) {
  const double middle = 1 + random.uniform() * longest;
  const double sigma = 0.1 + 0.4 * random.uniform();
  Table by{0};
  while (by.back() < 1 - 1e-9 && by.size() < 400) {
    const double z = std::log(static_cast<double>(by.size()) / middle) / sigma;
    by.push_back(0.5 * std::erfc(-z / std::sqrt(2.0)));
  }
  by.back() = 1;
  return by;
}

double chance(const Table& by, int day) {
  if (day < 0) return 0;
  return by[std::min(static_cast<std::size_t>(day), by.size() - 1)];
}

struct Plain {
  double complete = 1;
  double shelf_days = 0;
  double to_settle = 0;  // what the days are chosen by: the shelf, less what paying later is worth
};

/// Straight from the meaning, by adding up over days; shares nothing with the search.
Plain reckoned(const KitQuestion& question, const std::vector<int>& wait) {
  Plain plain;
  double cost = question.in_hand;
  double paid = 0;
  double means = 0;
  double last = 0;
  for (const KitPart& part : question.parts) cost += part.cost;
  for (int day = 0; day < 1000; ++day) {
    double all = 1;
    for (std::size_t i = 0; i < wait.size(); ++i) {
      const double here = chance(*question.parts[i].by, day - wait[i]);
      all *= here;
      means += question.parts[i].cost * (1 - here);
    }
    last += 1 - all;
  }
  for (std::size_t i = 0; i < wait.size(); ++i) {
    plain.complete *= chance(*question.parts[i].by, question.until - wait[i]);
    paid += question.parts[i].cost * wait[i];
  }
  plain.shelf_days = cost * last - means;
  plain.to_settle = plain.shelf_days - question.paid_later * paid;
  return plain;
}

/// The least over all sets of days that keep the confidence; 1e300 when none does.
double least_of_all(const KitQuestion& question) {
  std::vector<int> wait(question.parts.size());
  double least = 1e300;
  while (true) {
    const Plain plain = reckoned(question, wait);
    if (plain.complete >= question.confidence) least = std::min(least, plain.to_settle);
    std::size_t i = 0;
    while (i < wait.size() && (!question.parts[i].to_buy || wait[i] == question.until)) {
      wait[i++] = 0;
    }
    if (i == wait.size()) return least;
    ++wait[i];
  }
}

TEST(KitDays, AreAsGoodAsTheBestOfAllDays) {
  Random random(7);
  int kept = 0;
  double worst = 0;
  for (int kit = 0; kit < 60; ++kit) {
    std::vector<Table> tables;
    for (int i = 0; i < 3; ++i) tables.push_back(some_table(random, 9));
    KitQuestion question{.parts = {}, .in_hand = 100 * random.uniform(),
                         .until = 8 + static_cast<int>(random.below(12)), .confidence = 0.9};
    for (const Table& table : tables) {
      question.parts.push_back({.by = &table, .cost = 1 + 200 * random.uniform(),
                                .to_buy = random.below(4) != 0});
    }
    const KitDays found = kit_days(question);
    const Plain plain = reckoned(question, found.wait);
    EXPECT_NEAR(found.complete, plain.complete, 1e-9);
    EXPECT_NEAR(found.shelf_days, plain.shelf_days, 1e-6 * std::max(1.0, plain.shelf_days));
    const double least = least_of_all(question);
    if (least > 1e299) continue;
    ++kept;
    EXPECT_GE(found.complete, question.confidence);
    worst = std::max(worst, (plain.to_settle - least) / std::max(100.0, plain.shelf_days));
  }
  EXPECT_GT(kept, 30) << "most of these kits can be complete in time";
  EXPECT_LE(worst, 0.01);
}

// Differentiating the mean shows it: without a day to keep, the best days make each part the one
// waited for as often as its share of the kit's cost.
TEST(KitDays, MakeEachPartTheLastAsOftenAsItsShareOfTheCost) {
  Random random(3);
  const std::vector<double> costs = {900, 400, 250, 250, 200};
  std::vector<Table> tables;
  for (std::size_t i = 0; i < costs.size(); ++i) tables.push_back(some_table(random, 60));
  KitQuestion question{.parts = {}, .in_hand = 0, .until = 300, .confidence = 0.9,
                       .paid_later = 0.001};
  for (std::size_t i = 0; i < costs.size(); ++i) {
    question.parts.push_back({.by = &tables[i], .cost = costs[i]});
  }
  const KitDays found = kit_days(question);
  const double all = std::accumulate(costs.begin(), costs.end(), 0.0);
  for (std::size_t part = 0; part < costs.size(); ++part) {
    double last = 0;  // days on which it comes and all others are here, ties shared by halves
    for (int day = 0; day < 700; ++day) {
      double before = 1;
      double by_now = 1;
      for (std::size_t other = 0; other < costs.size(); ++other) {
        if (other == part) continue;
        before *= chance(tables[other], day - 1 - found.wait[other]);
        by_now *= chance(tables[other], day - found.wait[other]);
      }
      const double comes = chance(tables[part], day - found.wait[part]) -
                           chance(tables[part], day - 1 - found.wait[part]);
      last += comes * (before + by_now) / 2;
    }
    EXPECT_NEAR(last, costs[part] / all, 0.03) << part;
  }
}

TEST(KitDays, CallInTheRestWhenTheDearPartIsHere) {
  const Table week = {0, 0, 0, 0.2, 0.6, 0.9, 1};
  const KitQuestion early{.parts = {{.by = &week, .cost = 20}}, .in_hand = 2000, .until = 60,
                          .confidence = 0.95};
  EXPECT_EQ(kit_days(early).wait, std::vector<int>{0});
  const KitQuestion alone{.parts = {{.by = &week, .cost = 20}}, .in_hand = 0, .until = 60,
                          .confidence = 0.95};
  EXPECT_EQ(kit_days(alone).wait, std::vector<int>{54}) << "six days are sure, five are not enough";
}

TEST(KitDays, AreTheSoonestWhenNoneAreSoonEnough) {
  const Table slow = {0, 0, 0, 0, 0, 0, 0, 0, 0.5, 1};
  const Table quick = {0, 1};
  const KitQuestion question{.parts = {{.by = &slow, .cost = 100}, {.by = &quick, .cost = 1}},
                             .in_hand = 0, .until = 8, .confidence = 0.9};
  const KitDays found = kit_days(question);
  EXPECT_EQ(found.wait[0], 0);
  EXPECT_NEAR(found.complete, 0.5, 1e-12);
}

TEST(KitDays, OfAKitWithNothingToWaitForAreNone) {
  const KitDays found = kit_days({.parts = {}, .in_hand = 500, .until = 3, .confidence = 0.9});
  EXPECT_TRUE(found.wait.empty());
  EXPECT_EQ(found.complete, 1);
}

}  // namespace
}  // namespace rollwright::supply
