#include "plan/stock_level.hpp"

#include <algorithm>
#include <cmath>

#include <gtest/gtest.h>

#include "base/random.hpp"

namespace rollwright::plan {
namespace {

TEST(StockLevel, LevelsAndLossesAreEachOthersInverse) {
  for (const double z : {-3.0, -0.5, 0.0, 0.7, 2.5}) {
    EXPECT_NEAR(normal_level(std::erfc(-z / std::sqrt(2.0)) / 2), z, 1e-9);
    EXPECT_NEAR(normal_level_of_loss(normal_loss(z)), z, 1e-8);
  }
  EXPECT_NEAR(normal_loss(0), 0.398942, 1e-6);  // handbook tables, from memory
}

TEST(StockLevel, BuyingOnceCostsLeastAtTheLevelFound) {
  const NormalDemand demand{100, 20};
  const double best = buy_once(demand, 3, 1).value();
  const auto cost = [&](double bought) {
    const double z = (bought - demand.mean) / demand.sd;
    return 3 * demand.sd * normal_loss(z) + demand.sd * normal_loss(-z);
  };
  EXPECT_LT(cost(best), cost(best + 0.1));
  EXPECT_LT(cost(best), cost(best - 0.1));
}

TEST(StockLevel, NoNeighbourOfTheOrderLevelCostsLess) {
  const NormalDemand under_way{100, 25};
  const StockCosts costs{200, 50, 2, 25};
  const OrderLevel best = order_levels(under_way, costs).value().back();
  const double least = year_cost(under_way, costs, best);
  for (const double move : {-0.5, 0.5}) {
    EXPECT_GT(year_cost(under_way, costs, {best.quantity + move, best.level}), least);
    EXPECT_GT(year_cost(under_way, costs, {best.quantity, best.level + move}), least);
  }
}

TEST(StockLevel, TheLargestOfSeveralIsWhatDrawingGives) {
  constexpr std::uint64_t kSeed = 101;
  Random random(kSeed);
  double normals = 0;
  double exponentials = 0;
  constexpr int kDraws = 100'000;
  for (int draw = 0; draw < kDraws; ++draw) {
    double highest = -1e9;
    double longest = 0;
    for (int i = 0; i < 5; ++i) {
      highest = std::max(highest, random.normal());
      longest = std::max(longest, -std::log1p(-random.uniform()));
    }
    normals += highest / kDraws;
    exponentials += longest / kDraws;
  }
  EXPECT_NEAR(largest_normal(5), normals, 0.01) << "seed " << kSeed;
  EXPECT_NEAR(largest_exponential(5), exponentials, 0.02) << "seed " << kSeed;
}

TEST(StockLevel, ANetPlanNeverRunsShortAndOrdersWholePacks) {
  Random random(102);
  for (int trial = 0; trial < 200; ++trial) {
    NeedSeries series{.on_hand = static_cast<int>(random.below(40)),
                      .lead_periods = static_cast<int>(random.below(3)),
                      .pack = static_cast<int>(random.below(8))};
    int balance = series.on_hand;
    for (std::uint64_t t = 0; t < 1 + random.below(10); ++t) {
      series.needed.push_back(static_cast<int>(random.below(30)));
      series.coming.push_back(static_cast<int>(random.below(10)));
    }
    const NetPlan plan = net_plan(series).value();
    int placed = plan.too_late;
    int received = 0;
    for (std::size_t t = 0; t < series.needed.size(); ++t) {
      balance += series.coming[t] + plan.received[t] - series.needed[t];
      ASSERT_GE(balance, 0);
      ASSERT_EQ(balance, plan.on_hand[t]);
      ASSERT_TRUE(series.pack == 0 || plan.received[t] % series.pack == 0);
      ASSERT_TRUE(plan.missing[t] > 0 || plan.received[t] == 0);
      placed += plan.placed[t];
      received += plan.received[t];
    }
    ASSERT_EQ(placed, received);
  }
}

TEST(StockLevel, RefusesCostsThatMeanNothing) {
  EXPECT_EQ(buy_once({1, 1}, 0, 1).error().code, Code::kOutOfRange);
  EXPECT_EQ(order_levels({1, 1}, {1, 1, 1, 0}).error().code, Code::kOutOfRange);
  EXPECT_EQ(order_levels({1, 1}, {1, 50, 100, 1}).error().code, Code::kOutOfRange);
  EXPECT_EQ(level_for_share({1, 1}, 1, 1).error().code, Code::kOutOfRange);
  EXPECT_EQ(net_plan({{1}, {}, 0, 0, 0}).error().code, Code::kBadInput);
  EXPECT_EQ(net_plan({{-1}, {0}, 0, 0, 0}).error().code, Code::kOutOfRange);
}

}  // namespace
}  // namespace rollwright::plan
