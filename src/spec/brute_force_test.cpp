// Small catalogues, every bike enumerated: whatever this room answers must come out the same.

#include <gtest/gtest.h>

#include "spec/trials/brute_force.hpp"

namespace rollwright::spec {
namespace {

constexpr int kCatalogues = 120;
constexpr long long kMostBikes = 500;

TEST(BruteForce, EveryAnswerAgreesWithEnumeration) {
  std::uint64_t seed = 50000;
  testing::Comparison all;
  for (int i = 0; i < kCatalogues; ++i) {
    const testing::Catalogue catalogue = testing::generated_small(seed, kMostBikes);
    const testing::Enumeration bikes(catalogue);
    const auto problem = compile(catalogue.input());
    ASSERT_TRUE(problem);
    for (const double decided : {0.0, 0.4, 0.9}) {
      const Selection selection = testing::random_selection(catalogue, seed + 1, decided);
      all.add(testing::compare_all(catalogue, bikes, *problem, selection),
              "seed " + std::to_string(seed) + " decided " + std::to_string(decided));
    }
    ASSERT_TRUE(all.mismatches.empty()) << all.mismatches.front();
  }
  EXPECT_GT(all.compared, 10'000);
}

}  // namespace
}  // namespace rollwright::spec
