#include "plan/queue_wait.hpp"

#include <algorithm>
#include <cmath>

#include <gtest/gtest.h>

#include "base/random.hpp"

namespace rollwright::plan {
namespace {

TEST(QueueWait, OneStandWaitsAsTheClosedFormSays) {
  for (const double use : {0.1, 0.5, 0.9}) {
    const QueueLength queue = queue_length(1, use).value();
    EXPECT_NEAR(queue.waiting, use * use / (1 - use), 1e-12);
    EXPECT_NEAR(queue.all_free, 1 - use, 1e-12);
    EXPECT_NEAR(queue.must_wait, use, 1e-12);
    EXPECT_NEAR(queue_wait({1, use, 1, 1}).value(), use / (1 - use), 1e-12);
  }
}

TEST(QueueWait, AgreesWithASimulatedQueueOfThreeStands) {
  constexpr std::uint64_t kSeed = 91;
  Random random(kSeed);
  const auto exponential = [&random](double mean) { return -mean * std::log1p(-random.uniform()); };
  std::vector<double> free_at(3, 0);
  double now = 0;
  double waits = 0;
  constexpr int kCustomers = 400'000;
  for (int i = 0; i < kCustomers; ++i) {
    now += exponential(1 / 2.4);
    const auto stand = std::min_element(free_at.begin(), free_at.end());
    const double begin = std::max(now, *stand);
    waits += begin - now;
    *stand = begin + exponential(1);
  }
  // Little's law: waiting number = arrivals per time unit times the mean wait.
  const double waiting = 2.4 * waits / kCustomers;
  EXPECT_NEAR(waiting, queue_length(3, 2.4).value().waiting, 0.15) << "seed " << kSeed;
}

TEST(QueueWait, RefusesQueuesThatWouldGrowWithoutEnd) {
  EXPECT_EQ(queue_length(2, 2).error().code, Code::kOutOfRange);
  EXPECT_EQ(queue_length(0, 0.5).error().code, Code::kOutOfRange);
  EXPECT_EQ(queue_wait({1, 1, 1, 1}).error().code, Code::kOutOfRange);
  EXPECT_EQ(queue_wait({1, 0.5, -1, 1}).error().code, Code::kOutOfRange);
  EXPECT_EQ(queue_wait({1, NAN, 1, 1}).error().code, Code::kOutOfRange);
}

}  // namespace
}  // namespace rollwright::plan
