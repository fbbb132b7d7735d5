#include "plan/improve_project.hpp"

#include <array>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <memory>

#include <gtest/gtest.h>

#include "base/csv.hpp"
#include "base/text.hpp"
#include "plan/check_project.hpp"
#include "plan/project_bound.hpp"
#include "plan/project_plain_test.hpp"
#include "plan/read_job_shop.hpp"
#include "plan/read_sm.hpp"

namespace rollwright::plan {
namespace {

TEST(ImproveProject, ReachesTheShortestScheduleThatTryingEveryListFinds) {
  constexpr std::uint64_t kSeed = 77;
  Random random(kSeed);
  int above_bound = 0;
  for (int trial = 0; trial < 400; ++trial) {
    const Project project = plain::random_project(random, 1 + static_cast<int>(random.below(7)));
    const int shortest = plain::shortest(project);
    const ImprovedProject improved = improve_project(project, 1, 3000);
    ASSERT_EQ(improved.best.makespan, shortest) << "seed " << kSeed << ", trial " << trial;
    ASSERT_EQ(makespan_of(project, improved.best.starts), improved.best.makespan);
    ASSERT_TRUE(plain::feasible(project, improved.best.starts));
    ASSERT_TRUE(check_project(project, improved.best.starts).empty());
    const ProjectBounds bounds = bounds_of(project);
    ASSERT_LE(bounds.critical_path, shortest) << "seed " << kSeed << ", trial " << trial;
    ASSERT_LE(bounds.energy, bounds.energy_between) << "seed " << kSeed << ", trial " << trial;
    ASSERT_LE(bounds.energy_between, shortest) << "seed " << kSeed << ", trial " << trial;
    above_bound += shortest > bounds.best() ? 1 : 0;
  }
  // Some must have needed the search rather than the bound to end it.
  EXPECT_GT(above_bound, 20);
}

TEST(ImproveProject, GivesTheSameScheduleForTheSameSeedInOneRunOrInSeveral) {
  Random random(3);
  const Project project = plain::random_project(random, 40);
  const ImprovedProject whole = improve_project(project, 9, 3000);
  ProjectImprover improver(project, 9);
  for (long long budget = 0; budget <= 3000; budget += 100) improver.run_to(budget);
  EXPECT_EQ(improver.best().starts, whole.best.starts);
  EXPECT_EQ(improver.schedules(), whole.schedules);
}

TEST(ImproveProject, GetsNoWorseWithALargerBudgetAndNeverSpendsMore) {
  Random random(4);
  for (int trial = 0; trial < 20; ++trial) {
    const Project project = plain::random_project(random, 40);
    ProjectImprover improver(project, 2);
    int before = project.total_duration();
    for (const long long budget : {3LL, 50LL, 301LL, 1000LL}) {
      improver.run_to(budget);
      EXPECT_LE(improver.schedules(), budget);
      EXPECT_LE(improver.best().makespan, before);
      EXPECT_GE(improver.best().makespan, improver.lower_bound());
      before = improver.best().makespan;
    }
  }
}

TEST(ImproveProject, HasAFeasibleScheduleEvenWithoutABudget) {
  Random random(5);
  const Project project = plain::random_project(random, 30);
  EXPECT_TRUE(check_project(project, improve_project(project, 1, 0).best.starts).empty());
  const Project empty = Project::make({}, {}).value();
  EXPECT_EQ(improve_project(empty, 1, 100).best.makespan, 0);
}

/// Where the benchmark library's files lie; they are not part of this repository.
std::string planning_data() {
  const char* shared = std::getenv("ROLLWRIGHT_SHARED");
  return std::string(shared != nullptr ? shared : ROLLWRIGHT_ROOT "/../shared") +
         "/reference/planning/";
}

/// One file of a compressed archive, or an empty text.
std::string from_archive(const std::string& archive, const std::string& member) {
  const std::string command = "tar -xJOf '" + archive + "' '" + member + "' 2>/dev/null";
  const std::unique_ptr<FILE, int (*)(FILE*)> pipe(popen(command.c_str(), "r"), pclose);
  std::string text;
  std::array<char, 4096> part;
  while (const std::size_t read = pipe ? std::fread(part.data(), 1, part.size(), pipe.get()) : 0) {
    text.append(part.data(), read);
  }
  return text;
}

struct Known {
  std::string name;
  int optimum;
};

// Proved optima: Demeulemeester and Herroelen's list of June 1995 for the set of 30 activities of
// Kolisch and Sprecher, EJOR 96 (1996). j601_1 is proved by its critical path.
TEST(ImproveProject, ReachesProvedOptimaOfTheBenchmarkLibrary) {
  const std::string data = planning_data() + "psplib/";
  if (!std::filesystem::exists(data + "j30.sm.tar.xz")) {
    GTEST_SKIP() << "The benchmark library's files are not here: " << data;
  }
  const std::vector<Known> rows = {{"j301_1", 43}, {"j301_2", 47}, {"j3021_1", 84}, {"j601_1", 77}};
  for (const auto& [name, optimum] : rows) {
    const std::string set = name.substr(0, 3);
    const std::string text = from_archive(data + set + ".sm.tar.xz", set + "/" + name + ".sm");
    if (text.empty()) GTEST_SKIP() << "tar and xz cannot unpack " << name << " here.";
    const Project project = read_sm(text, name).value();
    const ImprovedProject improved = improve_project(project, 1, 20000);
    EXPECT_EQ(improved.best.makespan, optimum) << name;
    EXPECT_TRUE(check_project(project, improved.best.starts).empty()) << name;
  }
}

// Bounds: the library's own critical paths and energy bounds, as listed beside its files.
TEST(ProjectBound, AgreesWithTheBenchmarkLibrarysOwnFigures) {
  const std::string data = planning_data() + "psplib/";
  const auto listed = read_file(data + "bestknown/bounds.csv");
  if (!listed) GTEST_SKIP() << "The benchmark library's files are not here: " << data;
  const Csv csv = parse_csv(*listed, "bounds.csv").value();
  const auto cell = [&](const CsvRow& row, std::string_view heading) {
    return row.cells.at(static_cast<std::size_t>(csv.column(heading)));
  };
  int compared = 0;
  for (const CsvRow& row : csv.rows) {
    const std::string name = cell(row, "instance");
    const auto text = read_file(data + "sample/" + name + ".sm");
    if (!text) continue;
    const ProjectBounds bounds = bounds_of(read_sm(*text, name).value());
    EXPECT_EQ(bounds.critical_path, to_whole(cell(row, "cpm_lb"))) << name;
    EXPECT_EQ(bounds.energy, to_whole(cell(row, "resource_lb"))) << name;
    EXPECT_LE(bounds.best(), to_whole(cell(row, "best_ub"))) << name;
    ++compared;
  }
  EXPECT_GE(compared, 3);
}

// Optimum 55: Fisher and Thompson's shop of six jobs, in Muth and Thompson (1963).
TEST(ImproveProject, ReachesTheOptimumOfTheSixBySixJobShop) {
  const auto text = read_file(planning_data() + "jobshop/ft06.txt");
  if (!text) GTEST_SKIP() << "The job shop data are not here: " << planning_data();
  const Project project = read_job_shop(*text, "ft06.txt").value();
  const ImprovedProject improved = improve_project(project, 1, 50000);
  EXPECT_EQ(improved.best.makespan, 55);
  EXPECT_TRUE(check_project(project, improved.best.starts).empty());
}

}  // namespace
}  // namespace rollwright::plan
