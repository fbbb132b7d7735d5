#include "plan/quick_luck.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include <gtest/gtest.h>

#include "base/random.hpp"
#include "plan/uncertain_work.hpp"
#include "trade/spread.hpp"

namespace rollwright::plan {
namespace {

TEST(QuickLuck, ItsNormalAgreesWithTheExactOne) {
  // AS 241 states about seven figures for its shorter routine.
  for (int step = 1; step < 20000; ++step) {
    const double p = step / 20000.0;
    const double exact = trade::inverse_normal(p);
    EXPECT_NEAR(quick_inverse_normal(p), exact, 2e-7 * std::max(1.0, std::abs(exact))) << p;
  }
  for (const double p : {1e-15, 1e-12, 1e-9, 1e-6}) {
    EXPECT_NEAR(quick_inverse_normal(p), trade::inverse_normal(p), 2e-6) << p;
  }
}

TEST(QuickLuck, ItsPowersAndLogarithmsAgreeWithTheLibrarys) {
  Random random(31);
  for (int i = 0; i < 100'000; ++i) {
    const double x = 1400 * random.uniform() - 700;
    EXPECT_NEAR(quick_exp(x) / std::exp(x), 1, 1e-9) << x;
    const double y = std::exp(x / 4);
    EXPECT_NEAR(quick_log(y), std::log(y), 1e-12 * std::max(1.0, std::abs(x))) << y;
  }
  EXPECT_EQ(quick_exp(0), 1);
  EXPECT_EQ(quick_log(1), 0);
}

TEST(QuickLuck, UncertainWorkIsDrawnAsItsSpreadSays) {
  // Held against the library's own power, one by one, for every remainder that a loop of eight
  // leaves.
  Random random(32);
  constexpr double kUnit = 1024;
  for (std::size_t count = 0; count < 40; ++count) {
    UncertainWork work;
    std::vector<trade::Spread> spreads;
    std::vector<double> most;
    for (std::size_t i = 0; i < count; ++i) {
      spreads.push_back({.least = 20 * random.uniform(),
                         .median = 0.01 + 30 * random.uniform(),
                         .sigma = 0.05 + random.uniform()});
      most.push_back(random.below(4) == 0 ? 30 : 1e6);
      work.add(mixed(i), spreads[i], most[i], kUnit);
    }
    ASSERT_EQ(work.size(), count);
    std::vector<int> drawn(count);
    for (std::uint64_t draw = 0; draw < 20; ++draw) {
      const std::uint64_t key = mixed(1000 + draw);
      work.draw(key, drawn);
      for (std::size_t i = 0; i < count; ++i) {
        const double z = trade::inverse_normal(uniform(mixed(key ^ mixed(i))));
        const double minutes = std::min(trade::at_normal(spreads[i], z), most[i]);
        const double units = std::max(1.0, minutes * kUnit);
        EXPECT_NEAR(drawn[i], units, 0.501 + units * 1e-6) << i << " of " << count;
      }
    }
  }
}

TEST(QuickLuck, LuckIsEvenAndNeverOnAnEnd) {
  EXPECT_GT(uniform(0), 0);
  EXPECT_LT(uniform(~0ULL), 1);
  double sum = 0;
  for (std::uint64_t i = 0; i < 100'000; ++i) sum += uniform(mixed(i));
  EXPECT_NEAR(sum / 100'000, 0.5, 0.004);  // four and a half standard errors
}

}  // namespace
}  // namespace rollwright::plan
