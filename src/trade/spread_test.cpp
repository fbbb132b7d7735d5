#include "trade/spread.hpp"

#include <cmath>

#include <gtest/gtest.h>

namespace rollwright::trade {
namespace {

// Source: standard normal table, any statistics handbook (values from memory): 0.90 -> 1.281552,
// 0.95 -> 1.644854, 0.975 -> 1.959964, 0.99 -> 2.326348.
TEST(InverseNormal, AgreesWithTheTable) {
  EXPECT_NEAR(inverse_normal(0.5), 0, 1e-12);
  EXPECT_NEAR(inverse_normal(0.90), 1.281551566, 1e-8);
  EXPECT_NEAR(inverse_normal(0.95), 1.644853627, 1e-8);
  EXPECT_NEAR(inverse_normal(0.975), 1.959963985, 1e-8);
  EXPECT_NEAR(inverse_normal(0.01), -2.326347874, 1e-8);
}

TEST(InverseNormal, InvertsTheDistributionOverItsRange) {
  for (double p = 1e-9; p < 1; p += 0.00137) {
    const double back = 0.5 * std::erfc(-inverse_normal(p) / std::sqrt(2.0));
    EXPECT_NEAR(back, p, 1e-13 + 1e-12 * p);
  }
}

TEST(Spread, IsCertainWhenSigmaIsZero) {
  const Spread sure{.least = 2, .median = 3, .sigma = 0};
  EXPECT_EQ(quantile(sure, 0.05), 5);
  EXPECT_EQ(quantile(sure, 0.95), 5);
}

}  // namespace
}  // namespace rollwright::trade
