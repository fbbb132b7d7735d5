#include "plan/sequence_line.hpp"

#include <algorithm>
#include <cstdlib>

#include <gtest/gtest.h>

#include "base/random.hpp"

namespace rollwright::plan {
namespace {

/// Invented.
std::vector<LineModel> random_models(Random& random, int most_count) {
  const std::size_t stations = 1 + random.below(3);
  std::vector<LineModel> models(1 + random.below(3));
  for (LineModel& model : models) {
    model.count = static_cast<int>(random.below(static_cast<std::uint64_t>(most_count) + 1));
    for (std::size_t s = 0; s < stations; ++s) {
      model.work.push_back(static_cast<int>(random.below(30)));
    }
  }
  return models;
}

/// Straight from the definition, bike by bike.
long long plain_unevenness(const std::vector<LineModel>& models, const std::vector<int>& order) {
  long long sum = 0;
  for (std::size_t gone = 1; gone <= order.size(); ++gone) {
    for (std::size_t s = 0; s < models.front().work.size(); ++s) {
      long long so_far = 0;
      long long total = 0;
      for (std::size_t at = 0; at < order.size(); ++at) {
        const int work = models[static_cast<std::size_t>(order[at])].work[s];
        total += work;
        if (at < gone) so_far += work;
      }
      sum += std::llabs(static_cast<long long>(order.size()) * so_far -
                        static_cast<long long>(gone) * total);
    }
  }
  return sum;
}

TEST(SequenceLine, IsAsEvenAsTheBestOfAllOrders) {
  constexpr std::uint64_t kSeed = 71;
  Random random(kSeed);
  for (int trial = 0; trial < 200; ++trial) {
    const std::vector<LineModel> models = random_models(random, 3);
    std::vector<int> order;
    for (std::size_t m = 0; m < models.size(); ++m) {
      order.insert(order.end(), static_cast<std::size_t>(models[m].count), static_cast<int>(m));
    }
    long long best = plain_unevenness(models, order);
    do {
      best = std::min(best, plain_unevenness(models, order));
    } while (std::next_permutation(order.begin(), order.end()));
    const LineSequence sequence = level_sequence(models).value();
    ASSERT_TRUE(sequence.proved);
    ASSERT_EQ(sequence.unevenness, best) << "seed " << kSeed << ", trial " << trial;
    ASSERT_EQ(plain_unevenness(models, sequence.models), best);
    std::vector<int> sorted = sequence.models;
    std::sort(sorted.begin(), sorted.end());
    std::sort(order.begin(), order.end());
    ASSERT_EQ(sorted, order);
  }
}

TEST(SequenceLine, SendsEveryBikeOfALargeDayAndSaysThatItIsNotProved) {
  std::vector<LineModel> models;
  for (int m = 0; m < 8; ++m) models.push_back({std::to_string(m), 10, {10 + m, 30 - 2 * m}});
  const LineSequence sequence = level_sequence(models).value();
  EXPECT_FALSE(sequence.proved);
  ASSERT_EQ(sequence.models.size(), 80U);
  for (int m = 0; m < 8; ++m) {
    EXPECT_EQ(std::count(sequence.models.begin(), sequence.models.end(), m), 10);
  }
  std::vector<int> in_blocks = sequence.models;
  std::sort(in_blocks.begin(), in_blocks.end());
  EXPECT_EQ(sequence.unevenness, plain_unevenness(models, sequence.models));
  EXPECT_LT(10 * sequence.unevenness, plain_unevenness(models, in_blocks));
}

TEST(SequenceLine, AlternatesTwoModelsOfEqualCount) {
  const LineSequence sequence = level_sequence({{"a", 3, {10}}, {"b", 3, {20}}}).value();
  for (std::size_t at = 0; at + 1 < sequence.models.size(); at += 2) {
    EXPECT_NE(sequence.models[at], sequence.models[at + 1]);
  }
}

TEST(SequenceLine, RefusesModelsThatDoNotBelongToOneLine) {
  EXPECT_EQ(level_sequence({{"a", 1, {1, 2}}, {"b", 1, {1}}}).error().code, Code::kBadInput);
  EXPECT_EQ(level_sequence({{"a", -1, {1}}}).error().code, Code::kOutOfRange);
  EXPECT_EQ(level_sequence({{"a", 1, {-1}}}).error().code, Code::kOutOfRange);
  EXPECT_EQ(level_sequence({{"a", 300, {1}}, {"b", 300, {1}}}).error().code, Code::kOutOfRange);
  EXPECT_TRUE(level_sequence({}).value().models.empty());
}

}  // namespace
}  // namespace rollwright::plan
