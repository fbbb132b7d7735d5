#include "supply/kit_odds.hpp"

#include <cmath>

#include <gtest/gtest.h>

#include "base/random.hpp"
#include "trade/spread.hpp"

namespace rollwright::supply {
namespace {

// Source: independence product rule, any text on kitting: a kit of 20 at 95 % needs 99.744 % of
// each line (value checked against an independent computation).
TEST(KitOdds, AreTheProductWhenNothingIsLateTogether) {
  EXPECT_NEAR(all_there({{0, {0.9, 0.8}}, {0, {0.5}}}), 0.36, 1e-12);
  EXPECT_NEAR(all_there({{0, std::vector<double>(20, 0.99744)}}), 0.95, 5e-5);
  EXPECT_EQ(all_there({}), 1) << "a kit of nothing is complete";
  EXPECT_EQ(all_there({{0.5, {0.9, 0.0}}}), 0);
}

// Second opinion: draw the luck of each supplier and line, count complete kits.
TEST(KitOdds, AgreeWithDrawnKits) {
  const std::vector<LateTogether> groups = {{0.6, {0.9, 0.95, 0.85, 0.99}}, {0.2, {0.9, 0.7}}};
  Random random(12);
  constexpr int kDraws = 200000;
  int complete = 0;
  for (int i = 0; i < kDraws; ++i) {
    bool all = true;
    for (const LateTogether& group : groups) {
      const double week = random.normal();
      for (const double p : group.there) {
        const double luck = std::sqrt(group.correlation) * week +
                            std::sqrt(1 - group.correlation) * random.normal();
        all = all && luck <= trade::inverse_normal(p);
      }
    }
    complete += all ? 1 : 0;
  }
  EXPECT_NEAR(all_there(groups), static_cast<double>(complete) / kDraws, 0.004);
}

TEST(KitOdds, AreBetterForLinesThatAreLateTogether) {
  double before = 0;
  for (const double correlation : {0.0, 0.3, 0.6, 0.9}) {
    const double now = all_there({{correlation, std::vector<double>(6, 0.95)},
                                  {correlation, std::vector<double>(3, 0.95)}});
    EXPECT_GT(now, before);
    EXPECT_LT(now, 0.95);
    before = now;
  }
}

}  // namespace
}  // namespace rollwright::supply
