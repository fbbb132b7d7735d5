#include "plan/check_project.hpp"

#include <climits>

#include <gtest/gtest.h>

#include "plan/project_plain_test.hpp"

namespace rollwright::plan {
namespace {

/// Invented: two activities that share one unit, a third that waits for the first.
Project three() {
  return Project::make({{"a", 2, {2}, {1}}, {"b", 3, {}, {1}}, {"c", 1, {}, {0}}}, {1}).value();
}

TEST(CheckProject, FindsNothingWrongWithAFeasibleSchedule) {
  EXPECT_TRUE(check_project(three(), {0, 2, 2}).empty());
  EXPECT_TRUE(check_project(three(), {3, 0, 5}).empty());
}

TEST(CheckProject, SaysWhichActivityDoesNotWaitForWhich) {
  EXPECT_EQ(check_project(three(), {0, 2, 1}),
            std::vector<std::string>{
                "Activity c starts at 1, but must wait for activity a, which ends at 2."});
}

TEST(CheckProject, SaysWhenAResourceIsAskedForTooMuch) {
  EXPECT_EQ(check_project(three(), {0, 1, 2}),
            std::vector<std::string>{"From 1 to 2 resource 1 is asked for 2 units and has 1."});
}

TEST(CheckProject, RefusesStartsBeforeTheProjectAndAWrongNumberOfThem) {
  EXPECT_EQ(check_project(three(), {-2, 0, 0}).size(), 1U);
  EXPECT_EQ(check_project(three(), {0, 2}).size(), 1U);
  EXPECT_EQ(check_project(three(), {0, 2, 2, 2}).size(), 1U);
}

TEST(CheckProject, TakesTheLargestAndSmallestNumbersWithoutOverflow) {
  EXPECT_FALSE(check_project(three(), {INT_MAX, INT_MAX, INT_MIN}).empty());
}

TEST(CheckProject, RefusesAShiftedActivityExactlyWhenAPlainLookAtEveryTimeUnitDoes) {
  constexpr std::uint64_t kSeed = 31;
  Random random(kSeed);
  int refused = 0;
  int kept = 0;
  for (int trial = 0; trial < 1500; ++trial) {
    const Project project = plain::random_project(random, 2 + static_cast<int>(random.below(9)));
    Starts starts = plain::schedule(project, plain::random_list(project, random));
    ASSERT_TRUE(plain::feasible(project, starts)) << "seed " << kSeed << ", trial " << trial;
    ASSERT_TRUE(check_project(project, starts).empty()) << "seed " << kSeed << ", trial " << trial;
    const std::size_t moved = random.below(starts.size());
    starts[moved] += static_cast<int>(random.below(9)) - 4;
    const bool plain_says = plain::feasible(project, starts);
    ASSERT_EQ(check_project(project, starts).empty(), plain_says)
        << "seed " << kSeed << ", trial " << trial;
    ++(plain_says ? kept : refused);
  }
  // Both answers must have been tried for the comparison to mean anything.
  EXPECT_GT(refused, 300);
  EXPECT_GT(kept, 300);
}

}  // namespace
}  // namespace rollwright::plan
