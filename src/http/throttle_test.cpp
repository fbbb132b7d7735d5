#include "http/throttle.hpp"

#include <thread>

#include <gtest/gtest.h>

namespace rollwright::http {
namespace {

using std::chrono::hours;
using std::chrono::seconds;

/// A clock that a test moves.
struct Hand {
  Moment at{};
  Now now() {
    return [this] { return at; };
  }
};

constexpr ThrottleLimits kLimits{.free = 3, .first_wait = seconds(2), .most_wait = seconds(20),
                                 .forget = hours(1)};

TEST(Throttle, LetsAFewSlipsThroughAndThenMakesEachTryWaitTwiceAsLong) {
  Hand hand;
  Throttle throttle(kLimits, hand.now());
  for (int i = 0; i < 3; ++i) EXPECT_TRUE(throttle.take("mara").may) << i;
  for (const int wait : {2, 4, 8, 16, 20, 20}) {
    const Throttle::Verdict held = throttle.take("mara");
    EXPECT_FALSE(held.may);
    EXPECT_EQ(held.wait, seconds(wait));
    hand.at += seconds(wait) - std::chrono::milliseconds(1);
    EXPECT_EQ(throttle.take("mara").wait, seconds(1)) << "what is left is rounded up";
    hand.at += std::chrono::milliseconds(1);
    EXPECT_TRUE(throttle.take("mara").may);
  }
}

TEST(Throttle, CountsEachNameByItself) {
  Hand hand;
  Throttle throttle(kLimits, hand.now());
  for (int i = 0; i < 3; ++i) EXPECT_TRUE(throttle.take("mara").may);
  EXPECT_FALSE(throttle.take("mara").may);
  EXPECT_TRUE(throttle.take("jonas").may);
}

TEST(Throttle, ForgetsWhatWasWrongOnceItIsRight) {
  Hand hand;
  Throttle throttle(kLimits, hand.now());
  for (int i = 0; i < 3; ++i) EXPECT_TRUE(throttle.take("mara").may);
  throttle.right("mara");
  for (int i = 0; i < 3; ++i) EXPECT_TRUE(throttle.take("mara").may);
  EXPECT_FALSE(throttle.take("mara").may);
}

TEST(Throttle, ForgetsAfterAnHourWithoutATry) {
  Hand hand;
  Throttle throttle(kLimits, hand.now());
  for (int i = 0; i < 3; ++i) EXPECT_TRUE(throttle.take("mara").may);
  hand.at += hours(1);
  for (int i = 0; i < 3; ++i) EXPECT_TRUE(throttle.take("mara").may);
  EXPECT_FALSE(throttle.take("mara").may);
}

TEST(Throttle, LocksAfterFiveAndNeverForgetsThat) {
  Hand hand;
  ThrottleLimits limits = kLimits;
  limits.locks_after = 5;
  Throttle throttle(limits, hand.now());
  for (int i = 0; i < 5; ++i) {
    EXPECT_TRUE(throttle.take("jonas").may) << i;
    hand.at += seconds(20);
  }
  hand.at += hours(24 * 400);
  EXPECT_TRUE(throttle.take("jonas").is_locked);
  EXPECT_FALSE(throttle.take("jonas").may);
  throttle.right("jonas");
  EXPECT_TRUE(throttle.take("jonas").may);
}

TEST(Throttle, LetsManyTriesAtOnceGetNoFurtherThanOneAfterTheOther) {
  Hand hand;
  Throttle throttle(kLimits, hand.now());
  std::atomic<int> judged = 0;
  std::vector<std::thread> threads;
  for (int i = 0; i < 8; ++i) {
    threads.emplace_back([&] {
      for (int n = 0; n < 50; ++n) judged += throttle.take("mara").may ? 1 : 0;
    });
  }
  for (std::thread& thread : threads) thread.join();
  EXPECT_EQ(judged, 3);
}

TEST(Throttle, KeepsABoundedNumberOfNamesAndForgetsTheOldest) {
  Hand hand;
  Throttle throttle(kLimits, hand.now());
  for (int i = 0; i < 3; ++i) EXPECT_TRUE(throttle.take("first").may);
  EXPECT_FALSE(throttle.take("first").may);
  for (std::size_t i = 0; i < Throttle::kMostKeys - 1; ++i) {
    hand.at += std::chrono::milliseconds(1);
    EXPECT_TRUE(throttle.take(std::to_string(i)).may);
  }
  hand.at -= std::chrono::milliseconds(Throttle::kMostKeys - 1);
  EXPECT_FALSE(throttle.take("first").may) << "there is room for all of them";
  hand.at += std::chrono::milliseconds(Throttle::kMostKeys);
  EXPECT_TRUE(throttle.take("one more").may);
  hand.at -= std::chrono::milliseconds(Throttle::kMostKeys);
  EXPECT_TRUE(throttle.take("first").may) << "the oldest made room";
}

}  // namespace
}  // namespace rollwright::http
