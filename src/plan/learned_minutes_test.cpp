#include "plan/learned_minutes.hpp"

#include <cmath>

#include <gtest/gtest.h>

#include "base/random.hpp"

namespace rollwright::plan {
namespace {

double normal(Random& random) {
  return std::sqrt(-2 * std::log(1 - random.uniform())) * std::cos(6.283185307179586 * random.uniform());
}

TEST(LearnedMinutes, WithoutTimesTheRangeItselfComesOut) {
  const LearnedMinutes learned = learned_minutes({.low = 10, .high = 20}, {});
  EXPECT_NEAR(learned.low, 10, 1e-9);
  EXPECT_NEAR(learned.high, 20, 1e-9);
  EXPECT_NEAR(learned.median, std::sqrt(200.0), 1e-9);
  EXPECT_NEAR(learned.sigma, std::log(2.0) / 2 / 1.2815515655446004, 1e-12);
  EXPECT_EQ(learned.times, 0);
}

TEST(LearnedMinutes, ManyTimesOutweighTheRange) {
  std::vector<double> taken;
  Random random(5);
  for (int i = 0; i < 4000; ++i) taken.push_back(25 * std::exp(0.2 * normal(random)));
  const LearnedMinutes learned = learned_minutes({.low = 10, .high = 20}, taken);
  EXPECT_NEAR(learned.median, 25, 0.3);
  EXPECT_NEAR(learned.sigma, 0.2, 0.01);
}

TEST(LearnedMinutes, FourTimesWeighAsMuchAsTheRange) {
  // Four times of 20 against a middle of 14.14: half-way between their logarithms.
  const LearnedMinutes learned = learned_minutes({.low = 10, .high = 20}, {20, 20, 20, 20});
  EXPECT_NEAR(learned.median, std::sqrt(20 * std::sqrt(200.0)), 1e-9);
}

TEST(LearnedMinutes, AClockThatNobodyStoppedMovesLittle) {
  const LearnedMinutes usual = learned_minutes({.low = 10, .high = 20}, {14, 15, 16, 14, 15, 13});
  const LearnedMinutes once = learned_minutes({.low = 10, .high = 20}, {14, 15, 16, 14, 15, 900});
  EXPECT_EQ(once.astray, 1);
  EXPECT_LT(once.median, usual.median * 1.12);
}

/// The same by brute force: mean and standard deviation on a grid, weighed by prior and times.
double share_below(double log_minutes, const MinutesRange& range, const std::vector<double>& taken) {
  const double middle = std::log(range.low * range.high) / 2;
  const double sigma = std::log(range.high / range.low) / 2 / 1.2815515655446004;
  // 90 % of Student's t with 6 degrees: 1.439756 (any table of it).
  const double own = sigma * 1.2815515655446004 / (1.439756 * std::sqrt(5.0 / 4.0));
  double all = 0, below = 0;
  for (int i = 0; i < 600; ++i) {
    const double s = own * std::exp(-2.5 + 5.0 * (i + 0.5) / 600);
    for (int j = 0; j < 600; ++j) {
      const double m = middle + sigma * (-5 + 10.0 * (j + 0.5) / 600);
      // Inverse gamma for the variance (six degrees), on a grid even in log s; normal for the mean.
      double log_weight = -6 * std::log(s) - 6 * own * own / (2 * s * s);
      log_weight += -std::log(s) - 4 * (m - middle) * (m - middle) / (2 * s * s);
      for (const double minutes : taken) {
        const double off = std::log(minutes) - m;
        log_weight += -std::log(s) - off * off / (2 * s * s);
      }
      const double weight = std::exp(log_weight + (7 + static_cast<double>(taken.size())) * std::log(own));
      all += weight;
      below += weight * 0.5 * std::erfc(-(log_minutes - m) / s / std::sqrt(2.0));
    }
  }
  return below / all;
}

TEST(LearnedMinutes, AgreesWithIntegratingOverAGrid) {
  const MinutesRange range{.low = 12, .high = 30};
  for (const std::vector<double>& taken :
       {std::vector<double>{}, {22}, {14, 28, 17}, {25, 26, 27, 24, 26}}) {
    const LearnedMinutes learned = learned_minutes(range, taken);
    EXPECT_NEAR(share_below(std::log(learned.low), range, taken), 0.1, 0.003);
    EXPECT_NEAR(share_below(std::log(learned.median), range, taken), 0.5, 0.003);
    EXPECT_NEAR(share_below(std::log(learned.high), range, taken), 0.9, 0.003);
  }
}

// Shops that differ from the range about as much as the prior expects: eight in ten of the next
// times lie inside, with no, few and many times taken.
TEST(LearnedMinutes, EightInTenOfTheNextTimesAreInside) {
  Random random(77);
  const MinutesRange range{.low = 10, .high = 20};
  const double middle = std::log(200.0) / 2;
  const double sigma = std::log(2.0) / 2 / 1.2815515655446004;
  for (const int known : {0, 3, 30}) {
    int inside = 0;
    const int shops = 4000;
    for (int shop = 0; shop < shops; ++shop) {
      const double own = sigma * 0.85;
      const double m = middle + own / 2 * normal(random);
      std::vector<double> taken;
      for (int i = 0; i < known; ++i) taken.push_back(std::exp(m + own * normal(random)));
      const LearnedMinutes learned = learned_minutes(range, taken);
      const double next = std::exp(m + own * normal(random));
      if (learned.low <= next && next <= learned.high) ++inside;
    }
    EXPECT_NEAR(inside / static_cast<double>(shops), 0.8, 0.03) << known << " times taken";
  }
}

}  // namespace
}  // namespace rollwright::plan
