#include "plan/serial_schedule.hpp"

#include <gtest/gtest.h>

#include "plan/check_project.hpp"
#include "plan/justify.hpp"
#include "plan/project_plain_test.hpp"

namespace rollwright::plan {
namespace {

/// The same work with every arrow turned round.
Project reversed(const Project& project) {
  std::vector<Activity> activities;
  std::vector<int> capacities;
  for (int k = 0; k < project.resources(); ++k) capacities.push_back(project.capacity(k));
  for (int i = 0; i < project.size(); ++i) {
    const auto before = project.predecessors(i);
    Activity activity{"", project.duration(i), {before.begin(), before.end()}, {}};
    for (int k = 0; k < project.resources(); ++k) activity.demand.push_back(project.demand(i, k));
    activities.push_back(std::move(activity));
  }
  return Project::make(std::move(activities), std::move(capacities)).value();
}

TEST(SerialSchedule, StartsEachActivityWhereAPlainSchedulerDoes) {
  constexpr std::uint64_t kSeed = 5;
  Random random(kSeed);
  Schedule schedule;
  for (int trial = 0; trial < 1000; ++trial) {
    const Project project = plain::random_project(random, 1 + static_cast<int>(random.below(12)));
    SerialScheduler scheduler(project);
    // Twice with one scheduler: nothing may be left over from the pass before.
    for (int pass = 0; pass < 2; ++pass) {
      const ActivityList list = plain::random_list(project, random);
      scheduler.forward(list, schedule);
      ASSERT_EQ(schedule.starts, plain::schedule(project, list))
          << "seed " << kSeed << ", trial " << trial;
      ASSERT_EQ(schedule.makespan, makespan_of(project, schedule.starts));
    }
  }
}

TEST(SerialSchedule, GoesBackwardAsForwardOnTheReversedProject) {
  constexpr std::uint64_t kSeed = 6;
  Random random(kSeed);
  Schedule schedule;
  for (int trial = 0; trial < 500; ++trial) {
    const Project project = plain::random_project(random, 1 + static_cast<int>(random.below(12)));
    const Project turned = reversed(project);
    const ActivityList list = plain::random_list(turned, random);
    const Starts mirrored = plain::schedule(turned, list);
    SerialScheduler scheduler(project);
    scheduler.backward(list, schedule);
    ASSERT_EQ(schedule.makespan, makespan_of(turned, mirrored));
    for (int i = 0; i < project.size(); ++i) {
      const auto at = static_cast<std::size_t>(i);
      ASSERT_EQ(schedule.starts[at], schedule.makespan - mirrored[at] - project.duration(i))
          << "seed " << kSeed << ", trial " << trial;
    }
    ASSERT_TRUE(check_project(project, schedule.starts).empty());
  }
}

TEST(SerialSchedule, PacksResourcesThatNeedMoreBitsThanOneWordHas) {
  constexpr std::uint64_t kSeed = 7;
  Random random(kSeed);
  Schedule schedule;
  for (int trial = 0; trial < 50; ++trial) {
    std::vector<int> capacities;
    for (int k = 0; k < 30; ++k) capacities.push_back(1 + static_cast<int>(random.below(1000)));
    std::vector<Activity> activities(8);
    for (Activity& activity : activities) {
      activity.duration = static_cast<int>(random.below(5));
      for (const int capacity : capacities) {
        const auto most = static_cast<std::uint64_t>(capacity) + 1;
        activity.demand.push_back(
            random.below(4) == 0 ? static_cast<int>(random.below(most)) : 0);
      }
    }
    const Project project = Project::make(activities, capacities).value();
    SerialScheduler scheduler(project);
    const ActivityList list = plain::random_list(project, random);
    scheduler.forward(list, schedule);
    ASSERT_EQ(schedule.starts, plain::schedule(project, list)) << "trial " << trial;
  }
}

TEST(SerialSchedule, CountsOneScheduleForEachPass) {
  Random random(8);
  const Project project = plain::random_project(random, 6);
  SerialScheduler scheduler(project);
  Justifier justifier(project);
  Schedule schedule;
  scheduler.forward(plain::random_list(project, random), schedule);
  EXPECT_EQ(scheduler.schedules(), 1);
  justifier.justify_twice(scheduler, schedule);
  EXPECT_EQ(scheduler.schedules(), 3);
}

TEST(Justify, NeverMakesAScheduleLongerAndOftenMakesItShorter) {
  constexpr std::uint64_t kSeed = 9;
  Random random(kSeed);
  Schedule schedule;
  int shorter = 0;
  for (int trial = 0; trial < 1000; ++trial) {
    const Project project = plain::random_project(random, 12);
    SerialScheduler scheduler(project);
    Justifier justifier(project);
    scheduler.forward(plain::random_list(project, random), schedule);
    const int before = schedule.makespan;
    justifier.justify_right(scheduler, schedule);
    ASSERT_LE(schedule.makespan, before) << "seed " << kSeed << ", trial " << trial;
    ASSERT_TRUE(check_project(project, schedule.starts).empty());
    justifier.justify_left(scheduler, schedule);
    ASSERT_LE(schedule.makespan, before) << "seed " << kSeed << ", trial " << trial;
    ASSERT_TRUE(check_project(project, schedule.starts).empty());
    shorter += schedule.makespan < before ? 1 : 0;
  }
  EXPECT_GT(shorter, 50);
}

TEST(Justify, GivesTheSameScheduleWhetherTheMomentsAreFewOrMany) {
  Random random(10);
  for (int trial = 0; trial < 200; ++trial) {
    const Project project = plain::random_project(random, 10);
    // The same project with a time unit a thousand times finer goes the road of many moments.
    std::vector<Activity> finer;
    std::vector<int> capacities;
    for (int k = 0; k < project.resources(); ++k) capacities.push_back(project.capacity(k));
    for (int i = 0; i < project.size(); ++i) {
      const auto after = project.successors(i);
      finer.push_back({"", project.duration(i) * 1000, {after.begin(), after.end()}, {}});
      for (int k = 0; k < project.resources(); ++k) {
        finer.back().demand.push_back(project.demand(i, k));
      }
    }
    const Project fine = Project::make(finer, capacities).value();
    const ActivityList list = plain::random_list(project, random);
    Schedule coarse_schedule;
    Schedule fine_schedule;
    SerialScheduler coarse_scheduler(project);
    SerialScheduler fine_scheduler(fine);
    coarse_scheduler.forward(list, coarse_schedule);
    fine_scheduler.forward(list, fine_schedule);
    Justifier(project).justify_twice(coarse_scheduler, coarse_schedule);
    Justifier(fine).justify_twice(fine_scheduler, fine_schedule);
    for (int& start : coarse_schedule.starts) start *= 1000;
    ASSERT_EQ(coarse_schedule.starts, fine_schedule.starts) << "trial " << trial;
  }
}

}  // namespace
}  // namespace rollwright::plan
