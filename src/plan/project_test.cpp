#include "plan/project.hpp"

#include <gtest/gtest.h>

#include "plan/project_bound.hpp"

namespace rollwright::plan {
namespace {

/// Invented: two stands, two people; 0 before 1 and 2, both before 3.
std::vector<Activity> four_jobs() {
  return {{"strip", 2, {1, 2}, {1, 1}},
          {"paint", 4, {3}, {1, 1}},
          {"true wheels", 3, {3}, {1, 1}},
          {"assemble", 5, {}, {2, 1}}};
}

TEST(Project, KnowsWhoWaitsForWhomInBothDirections) {
  const Project project = Project::make(four_jobs(), {2, 2}).value();
  EXPECT_EQ(project.size(), 4);
  EXPECT_EQ(project.resources(), 2);
  EXPECT_EQ(project.total_duration(), 14);
  EXPECT_EQ(std::vector<int>(project.predecessors(3).begin(), project.predecessors(3).end()),
            (std::vector<int>{1, 2}));
  EXPECT_EQ(std::vector<int>(project.successors(0).begin(), project.successors(0).end()),
            (std::vector<int>{1, 2}));
  EXPECT_EQ(project.waiting_order().front(), 0);
  EXPECT_EQ(project.waiting_order().back(), 3);
}

TEST(Project, DropsASuccessorNamedTwice) {
  const Project project =
      Project::make({{"a", 1, {1, 1, 1}, {}}, {"b", 1, {}, {}}}, {}).value();
  EXPECT_EQ(project.successors(0).size(), 1U);
  EXPECT_EQ(project.predecessors(1).size(), 1U);
}

TEST(Project, MayHaveNoActivitiesAndNoResources) {
  const Project project = Project::make({}, {}).value();
  EXPECT_EQ(project.size(), 0);
  EXPECT_EQ(bounds_of(project).best(), 0);
  EXPECT_EQ(makespan_of(project, {}), 0);
}

TEST(Project, NamesTheRingOfActivitiesThatWaitForEachOther) {
  auto jobs = four_jobs();
  jobs[3].successors = {1};
  const auto project = Project::make(jobs, {2, 2});
  ASSERT_FALSE(project);
  EXPECT_EQ(project.error().code, Code::kContradiction);
  EXPECT_NE(project.error().sentence.find("activity paint"), std::string::npos);
  EXPECT_NE(project.error().sentence.find("activity assemble"), std::string::npos);
  EXPECT_EQ(project.error().sentence.find("strip"), std::string::npos);
}

TEST(Project, RefusesAnActivityThatWaitsForItself) {
  EXPECT_EQ(Project::make({{"a", 1, {0}, {}}}, {}).error().code, Code::kContradiction);
}

TEST(Project, RefusesADemandAboveTheCapacityAndSaysWhich) {
  const auto project = Project::make(four_jobs(), {1, 2});
  ASSERT_FALSE(project);
  EXPECT_EQ(project.error().code, Code::kContradiction);
  EXPECT_EQ(project.error().place.field, "demand of activity assemble");
  EXPECT_EQ(project.error().place.value, "2");
}

TEST(Project, RefusesNegativeNumbersAndWrongIndices) {
  const auto refused = [](Activity activity, std::vector<int> capacities) {
    const auto project = Project::make({std::move(activity)}, std::move(capacities));
    return project ? "" : std::string(row_of(project.error().code).word);
  };
  const std::string out_of_range(row_of(Code::kOutOfRange).word);
  EXPECT_EQ(refused({"a", -1, {}, {}}, {}), out_of_range);
  EXPECT_EQ(refused({"a", kMostTotalDuration + 1, {}, {}}, {}), out_of_range);
  EXPECT_EQ(refused({"a", 1, {1}, {}}, {}), out_of_range);
  EXPECT_EQ(refused({"a", 1, {-1}, {}}, {}), out_of_range);
  EXPECT_EQ(refused({"a", 1, {}, {-1}}, {1}), out_of_range);
  EXPECT_EQ(refused({"a", 1, {}, {0}}, {-1}), out_of_range);
  EXPECT_EQ(refused({"a", 1, {}, {0}}, {kMostCapacity + 1}), out_of_range);
  EXPECT_EQ(refused({"a", 1, {}, {}}, {1}), row_of(Code::kBadInput).word);
  EXPECT_EQ(refused({"a", 1, {}, {1}}, {1}), "");
}

TEST(Project, RefusesMoreWorkThanItsLimits) {
  const std::vector<Activity> long_jobs(2, {"a", kMostTotalDuration, {}, {}});
  EXPECT_EQ(Project::make(long_jobs, {}).error().code, Code::kTooLarge);
  const std::vector<Activity> many(static_cast<std::size_t>(kMostActivities) + 1);
  EXPECT_EQ(Project::make(many, {}).error().code, Code::kTooLarge);
  const std::vector<int> resources(static_cast<std::size_t>(kMostResources) + 1, 1);
  EXPECT_EQ(Project::make({}, resources).error().code, Code::kTooLarge);
}

// Worked by hand. Chain strip, paint, assemble: 2 + 4 + 5 = 11. Stands: 2 + 4 + 3 + 2 * 5 = 19
// over 2, rounded up 10; people: 14 over 2 = 7. Between: everything after the strip needs 17 of
// the stands over 2, rounded up 9, and the 2 before it: 11.
TEST(ProjectBound, AgreesWithAHandCalculation) {
  const ProjectBounds bounds = bounds_of(Project::make(four_jobs(), {2, 2}).value());
  EXPECT_EQ(bounds.critical_path, 11);
  EXPECT_EQ(bounds.energy, 10);
  EXPECT_EQ(bounds.energy_between, 11);
  EXPECT_EQ(bounds.best(), 11);
}

// One machine, invented: the head of 3 and the tails of 4 and 1 make the work of 5 + 6 start at 3
// and leave 1: 3 + 11 + 1 = 15, while the machine's own work is 11 and the longest chain 12.
TEST(ProjectBound, SeesWorkThatIsSqueezedBetweenOtherWork) {
  const Project project = Project::make({{"fetch", 3, {1, 2}, {0}},
                                         {"turn", 5, {3}, {1}},
                                         {"mill", 6, {4}, {1}},
                                         {"dry", 4, {}, {0}},
                                         {"pack", 1, {}, {0}}},
                                        {1})
                              .value();
  const ProjectBounds bounds = bounds_of(project);
  EXPECT_EQ(bounds.critical_path, 12);
  EXPECT_EQ(bounds.energy, 11);
  EXPECT_EQ(bounds.energy_between, 15);
}

}  // namespace
}  // namespace rollwright::plan
