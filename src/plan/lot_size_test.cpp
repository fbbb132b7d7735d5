#include "plan/lot_size.hpp"

#include <gtest/gtest.h>

#include "base/random.hpp"

namespace rollwright::plan {
namespace {

/// Cheapest of all choices of the periods in which a lot begins.
double cheapest_of_all(const LotSeries& series) {
  const auto periods = series.demand.size();
  double best = 1e18;
  for (unsigned choice = 0; choice < 1U << periods; ++choice) {
    double cost = 0;
    double waited = -1;  // periods since the last lot, -1 before the first
    bool possible = true;
    for (std::size_t t = 0; t < periods; ++t) {
      const bool begins = (choice >> t & 1) != 0;
      if (begins) cost += series.order_cost[t];
      waited = begins ? 0 : waited < 0 ? -1 : waited + 1;
      possible = possible && (waited >= 0 || series.demand[t] == 0);
      cost += std::max(0.0, waited) * series.keep_cost * series.demand[t];
    }
    if (possible) best = std::min(best, cost);
  }
  return best;
}

TEST(LotSize, CheapestLotsCostWhatTheBestOfAllChoicesCosts) {
  constexpr std::uint64_t kSeed = 81;
  Random random(kSeed);
  for (int trial = 0; trial < 200; ++trial) {
    LotSeries series{.keep_cost = static_cast<double>(random.below(4))};
    const std::size_t periods = random.below(9);
    for (std::size_t t = 0; t < periods; ++t) {
      series.demand.push_back(static_cast<double>(random.below(30)));
      series.order_cost.push_back(static_cast<double>(random.below(100)));
    }
    const LotPlan plan = cheapest_lots(series).value();
    ASSERT_DOUBLE_EQ(plan.cost, cheapest_of_all(series)) << "seed " << kSeed << ", " << trial;
    double pieces = 0;
    double demand = 0;
    for (const Lot& lot : plan.lots) pieces += lot.pieces;
    for (const double each : series.demand) demand += each;
    ASSERT_DOUBLE_EQ(pieces, demand);
    for (const LotRule rule : {LotRule::kEachPeriod, LotRule::kCostPerPeriod,
                               LotRule::kCostPerPiece, LotRule::kBalance}) {
      ASSERT_GE(lots_by_rule(series, rule).value().cost, plan.cost - 1e-9);
    }
  }
}

// Wagner and Whitin, Management Science 5 (1958): twelve months, data from memory; 864.
TEST(LotSize, CostsWhatTheFirstPublishedExampleCosts) {
  const LotSeries series{{69, 29, 36, 61, 61, 26, 34, 67, 45, 67, 79, 56},
                         {85, 102, 102, 101, 98, 114, 105, 86, 119, 110, 98, 114},
                         1};
  const LotPlan plan = cheapest_lots(series).value();
  EXPECT_DOUBLE_EQ(plan.cost, 864);
  ASSERT_EQ(plan.lots.size(), 6U);
  EXPECT_EQ(plan.lots[2].period, 4);
  EXPECT_EQ(plan.lots[2].pieces, 121);
}

TEST(LotSize, RefusesNumbersThatMeanNothing) {
  EXPECT_EQ(cheapest_lots({{1, 2}, {1}, 1}).error().code, Code::kBadInput);
  EXPECT_EQ(cheapest_lots({{-1}, {1}, 1}).error().code, Code::kOutOfRange);
  EXPECT_EQ(lots_by_rule({{1}, {1}, -1}, LotRule::kBalance).error().code, Code::kOutOfRange);
  EXPECT_TRUE(cheapest_lots({}).value().lots.empty());
}

}  // namespace
}  // namespace rollwright::plan
