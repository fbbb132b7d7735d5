#include "plan/prove_project.hpp"

#include <gtest/gtest.h>

#include "plan/check_project.hpp"
#include "plan/improve_project.hpp"
#include "plan/project_plain_test.hpp"

namespace rollwright::plan {
namespace {

/// One activity after the other: feasible, and far from the shortest.
Schedule one_by_one(const Project& project) {
  Schedule schedule{.starts = Starts(static_cast<std::size_t>(project.size()), 0)};
  for (const int i : project.waiting_order()) {
    schedule.starts[static_cast<std::size_t>(i)] = schedule.makespan;
    schedule.makespan += project.duration(i);
  }
  return schedule;
}

TEST(ProveProject, FindsAndProvesTheLengthThatTryingEveryListFinds) {
  constexpr std::uint64_t kSeed = 505;
  Random random(kSeed);
  long long conflicts = 0;
  for (int trial = 0; trial < 400; ++trial) {
    const Project project = plain::random_project(random, 1 + static_cast<int>(random.below(7)));
    const ProvedProject proved = prove_project(project, one_by_one(project));
    ASSERT_TRUE(proved.proved()) << "seed " << kSeed << ", trial " << trial;
    ASSERT_EQ(proved.best.makespan, plain::shortest(project)) << "trial " << trial;
    ASSERT_EQ(proved.lower_bound, proved.best.makespan);
    ASSERT_EQ(makespan_of(project, proved.best.starts), proved.best.makespan);
    ASSERT_TRUE(check_project(project, proved.best.starts).empty()) << "trial " << trial;
    conflicts += proved.conflicts;
  }
  // Some must have needed the search.
  EXPECT_GT(conflicts, 100);
}

TEST(ProveProject, NeverFindsLessThanAProofNorMoreThanTheStartOnLargerProjects) {
  constexpr std::uint64_t kSeed = 506;
  Random random(kSeed);
  int proofs = 0;
  for (int trial = 0; trial < 40; ++trial) {
    const Project project = plain::random_project(random, 30);
    const ProvedProject proved = prove_project(project, one_by_one(project), {20'000, {}});
    const ImprovedProject improved = improve_project(project, 1, 3000);
    ASSERT_LE(proved.lower_bound, improved.best.makespan) << "seed " << kSeed << ", " << trial;
    ASSERT_GE(proved.best.makespan, improved.lower_bound) << "seed " << kSeed << ", " << trial;
    ASSERT_TRUE(check_project(project, proved.best.starts).empty()) << "trial " << trial;
    proofs += proved.proved() ? 1 : 0;
  }
  EXPECT_GE(proofs, 35);
}

TEST(ProveProject, GivesTheSameScheduleEveryTime) {
  Random random(507);
  const Project project = plain::random_project(random, 30);
  const ProvedProject once = prove_project(project, one_by_one(project));
  const ProvedProject again = prove_project(project, one_by_one(project));
  EXPECT_EQ(once.best.starts, again.best.starts);
  EXPECT_EQ(once.conflicts, again.conflicts);
}

TEST(ProveProject, StopsWhenAskedAndSaysWhatIsNotProved) {
  Random random(508);
  int open = 0;
  for (int trial = 0; trial < 40; ++trial) {
    const Project project = plain::random_project(random, 40);
    const Schedule start = one_by_one(project);
    const ProvedProject proved = prove_project(project, start, {1, {}});
    EXPECT_LE(proved.best.makespan, start.makespan);
    EXPECT_TRUE(check_project(project, proved.best.starts).empty());
    open += proved.proved() ? 0 : 1;
  }
  EXPECT_GT(open, 0);
}

TEST(ProveProject, TakesProjectsWithoutActivitiesOrWithoutNeeds) {
  const Project empty = Project::make({}, {}).value();
  EXPECT_TRUE(prove_project(empty, {}).proved());
  const Project free = Project::make({{"a", 3, {1}, {}}, {"b", 0, {2}, {}}, {"c", 2, {}, {}}}, {})
                           .value();
  const ProvedProject proved = prove_project(free, {{4, 7, 9}, 11});
  EXPECT_TRUE(proved.proved());
  EXPECT_EQ(proved.best.makespan, 5);
}

}  // namespace
}  // namespace rollwright::plan
