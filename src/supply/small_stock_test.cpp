#include "supply/small_stock.hpp"

#include <array>
#include <cmath>
#include <deque>
#include <utility>

#include <gtest/gtest.h>

#include "base/random.hpp"

// All demands and costs in these tests are invented.
namespace rollwright::supply {
namespace {

DayOdds exactly(int days) {
  DayOdds odds{.by = std::vector<double>(static_cast<std::size_t>(days) + 1, 0)};
  odds.by.back() = 1;
  return odds;
}

SmallStock spokes() {
  return {.occasions_per_day = 0.6, .pieces = {0.5, 0.2, 0, 0.3}, .lead = exactly(6),
          .order_cost = 4, .holding_per_day = 0.02, .lacking_per_day = 0.9};
}

/// Plain: occasion after occasion, deliveries in a queue.
StockCourse simulated(const SmallStock& stock, const StockLevels& levels, int occasions) {
  Random random(21);
  StockCourse course;
  double now = 0;
  int shelf = levels.up_to;     // negative: owed
  int position = levels.up_to;
  int orders = 0;
  std::deque<std::pair<double, int>> under_way;
  const auto pass = [&](double until) {
    const double days = until - now;
    course.on_shelf += days * std::max(0, shelf);
    course.lacking += days * std::max(0, -shelf);
    course.at_hand += shelf > 0 ? days : 0;
    now = until;
  };
  const auto lead = static_cast<double>(days_for(stock.lead, 0.5));
  for (int i = 0; i < occasions; ++i) {
    const double next = now - std::log(1 - random.uniform()) / stock.occasions_per_day;
    while (!under_way.empty() && under_way.front().first <= next) {
      pass(under_way.front().first);
      shelf += under_way.front().second;
      under_way.pop_front();
    }
    pass(next);
    double u = random.uniform();
    int pieces = 1;
    for (std::size_t k = 0; k + 1 < stock.pieces.size() && u >= stock.pieces[k]; ++k) {
      u -= stock.pieces[k];
      ++pieces;
    }
    shelf -= pieces;
    position -= pieces;
    if (position <= levels.at) {
      under_way.emplace_back(now + lead, levels.up_to - position);
      position = levels.up_to;
      ++orders;
    }
  }
  course.on_shelf /= now;
  course.lacking /= now;
  course.at_hand /= now;
  course.orders_per_day = orders / now;
  course.cost_per_day = stock.order_cost * course.orders_per_day +
                        stock.holding_per_day * course.on_shelf +
                        stock.lacking_per_day * course.lacking;
  return course;
}

TEST(SmallStock, GoesAsASimulationOfItGoes) {
  const SmallStock stock = spokes();
  for (const StockLevels levels : {StockLevels{5, 20}, StockLevels{0, 9}, StockLevels{-3, 2}}) {
    const StockCourse exact = course_of(stock, levels).value();
    const StockCourse seen = simulated(stock, levels, 400000);
    EXPECT_NEAR(exact.cost_per_day, seen.cost_per_day, 0.02 * seen.cost_per_day);
    EXPECT_NEAR(exact.orders_per_day, seen.orders_per_day, 0.01 * seen.orders_per_day);
    EXPECT_NEAR(exact.on_shelf, seen.on_shelf, 0.02 * seen.on_shelf + 0.01);
    EXPECT_NEAR(exact.lacking, seen.lacking, 0.03 * seen.lacking + 0.01);
    EXPECT_NEAR(exact.at_hand, seen.at_hand, 0.01);
  }
}

// Second opinion: every pair in a square.
TEST(SmallStock, FindsTheCheapestOfAllLevels) {
  Random random(22);
  for (int i = 0; i < 6; ++i) {
    SmallStock stock = spokes();
    stock.occasions_per_day = 0.1 + random.uniform();
    stock.order_cost = 8 * random.uniform();
    stock.lacking_per_day = 0.1 + random.uniform();
    stock.lead = mixed(exactly(2 + static_cast<int>(random.below(6))), exactly(9), 0.7);
    const StockLevels best = best_levels(stock).value();
    const double least = course_of(stock, best).value().cost_per_day;
    for (int at = best.at - 6; at <= best.at + 6; ++at) {
      for (int up_to = at + 1; up_to <= best.up_to + 10; ++up_to) {
        EXPECT_GE(course_of(stock, {at, up_to}).value().cost_per_day, least - 1e-9)
            << at << ", " << up_to << " beside " << best.at << ", " << best.up_to;
      }
    }
  }
}

TEST(SmallStock, KeepsMoreWhenLackingIsDearerOrDeliverySlower) {
  const StockLevels usual = best_levels(spokes()).value();
  SmallStock dear = spokes();
  dear.lacking_per_day = 9;
  EXPECT_GT(best_levels(dear).value().at, usual.at);
  SmallStock slow = spokes();
  slow.lead = exactly(20);
  EXPECT_GT(best_levels(slow).value().at, usual.at);
  SmallStock handling = spokes();
  handling.order_cost = 20;
  const StockLevels seldom = best_levels(handling).value();
  EXPECT_GT(seldom.up_to - seldom.at, usual.up_to - usual.at);
}

// With single pieces, no cost of ordering and no lead time's spread, the level is the newsvendor's:
// the least y with P(demand of the lead time <= y) >= b / (b + h). Poisson, mean 3: y = 6 at 0.95.
TEST(SmallStock, IsTheNewsvendorsWhenOrdersCostNothing) {
  const SmallStock stock{.occasions_per_day = 0.5, .pieces = {1}, .lead = exactly(6),
                         .order_cost = 0, .holding_per_day = 0.05, .lacking_per_day = 0.95};
  EXPECT_EQ(best_levels(stock).value().up_to, 6);
  EXPECT_EQ(best_levels(stock).value().at, 5);
}

// Second opinion: occasions drawn day by day until the delivery comes.
TEST(SmallStock, LacksAsOftenAsDrawnWaitsDo) {
  SmallStock stock = spokes();
  const DayOdds until = mixed(exactly(4), exactly(11), 0.6);
  Random random(41);
  constexpr int kDraws = 40000;
  std::array<int, 5> lacking{};
  const std::array<int, 5> shelves = {0, 1, 4, 10, 30};
  const auto pieces = [&] {
    double left = random.uniform();
    int n = 1;
    for (const double p : stock.pieces) {
      if ((left -= p) < 0) break;
      ++n;
    }
    return std::min(n, static_cast<int>(stock.pieces.size()));
  };
  for (int i = 0; i < kDraws; ++i) {
    const int days = random.uniform() < within(until, 4) ? 4 : 11;
    int taken = 0;
    // Gaps between occasions of a Poisson stream are exponential.
    double at = -std::log(1 - random.uniform()) / stock.occasions_per_day;
    for (; at < days; at += -std::log(1 - random.uniform()) / stock.occasions_per_day) {
      taken += pieces();
    }
    for (std::size_t k = 0; k < 5; ++k) lacking[k] += taken > shelves[k] ? 1 : 0;
  }
  for (std::size_t k = 0; k < 5; ++k) {
    EXPECT_NEAR(chance_lacking(stock, shelves[k], until).value(),
                static_cast<double>(lacking[k]) / kDraws, 0.01)
        << shelves[k] << " on the shelf";
  }
  EXPECT_EQ(chance_lacking(stock, 3, {}).error().code, Code::kOutOfRange);
}

// Poisson with mean 3: 1 - 0.8153 is more than 4 (tables of the Poisson law, from memory).
TEST(SmallStock, LacksAsTheTableOfThePoissonLawSays) {
  SmallStock stock = spokes();
  stock.occasions_per_day = 0.5;
  stock.pieces = {1};
  EXPECT_NEAR(chance_lacking(stock, 4, exactly(6)).value(), 1 - 0.8153, 1e-4);
  EXPECT_NEAR(chance_lacking(stock, 0, exactly(6)).value(), 1 - 0.0498, 1e-4);
}

TEST(SmallStock, RefusesWhatIsNone) {
  SmallStock stock = spokes();
  stock.pieces = {0.5, 0.2};
  EXPECT_EQ(best_levels(stock).error().code, Code::kContradiction);
  stock = spokes();
  stock.occasions_per_day = -1;
  EXPECT_EQ(best_levels(stock).error().code, Code::kOutOfRange);
  stock = spokes();
  stock.lead = {};
  EXPECT_EQ(best_levels(stock).error().code, Code::kOutOfRange);
  EXPECT_EQ(course_of(spokes(), {5, 5}).error().code, Code::kContradiction);
}

}  // namespace
}  // namespace rollwright::supply
