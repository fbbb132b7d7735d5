#include "plan/said_and_kept.hpp"

#include <gtest/gtest.h>

#include "base/random.hpp"

namespace rollwright::plan {
namespace {

TEST(SaidAndKept, AgreesWithBinomialTables) {
  // Binomial, n = 20, p = 0.9: P(X <= 15) = 0.0432, P(X <= 16) = 0.1330, P(X = 20) = 0.1216; tables
  // of the binomial distribution, for instance in any handbook of statistics (from memory).
  const SaidAndKept sum = said_and_kept(std::vector<Said>(20, {.chance = 0.9, .kept = true}));
  EXPECT_EQ(sum.promises, 20);
  EXPECT_EQ(sum.kept, 20);
  EXPECT_NEAR(sum.expected, 18, 1e-9);
  EXPECT_EQ(sum.least, 16);
  EXPECT_EQ(sum.most, 20);
}

TEST(SaidAndKept, AgreesWithCountingEveryOutcome) {
  Random random(7);
  for (int round = 0; round < 50; ++round) {
    std::vector<Said> promises;
    for (int i = 0; i < 8; ++i) promises.push_back({.chance = random.uniform(), .kept = i % 2 == 0});
    std::vector<double> odds(9, 0);
    for (unsigned outcome = 0; outcome < 256; ++outcome) {
      double chance = 1;
      int kept = 0;
      for (unsigned i = 0; i < 8; ++i) {
        const bool yes = (outcome >> i & 1) != 0;
        chance *= yes ? promises[i].chance : 1 - promises[i].chance;
        kept += yes ? 1 : 0;
      }
      odds[static_cast<std::size_t>(kept)] += chance;
    }
    const SaidAndKept sum = said_and_kept(promises);
    const auto share = [&](int from, int to) {
      double total = 0;
      for (int k = from; k < to; ++k) total += odds[static_cast<std::size_t>(k)];
      return total;
    };
    EXPECT_LE(share(0, sum.least), 0.05 + 1e-12);
    EXPECT_GT(share(0, sum.least + 1), 0.05 - 1e-12);
    EXPECT_LE(share(sum.most + 1, 9), 0.05 + 1e-12);
    EXPECT_GT(share(sum.most, 9), 0.05 - 1e-12);
    EXPECT_EQ(sum.kept, 4);
  }
}

TEST(SaidAndKept, NothingSaidIsNothingKept) {
  const SaidAndKept sum = said_and_kept({});
  EXPECT_EQ(sum.promises, 0);
  EXPECT_EQ(sum.least, 0);
  EXPECT_EQ(sum.most, 0);
}

}  // namespace
}  // namespace rollwright::plan
