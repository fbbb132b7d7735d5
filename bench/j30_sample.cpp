// Plans projects of 30 activities from the open benchmark library and says how far the plans are
// above the proved optima on average, every plan checked by code that shares nothing with the
// scheduler.
//
// Data: Kolisch and Sprecher, EJOR 96 (1996); optima of Demeulemeester and Herroelen. Convention:
// one pass of the schedule generation scheme is one schedule, pushing late and early counted, as in
// Kolisch and Hartmann, EJOR 174 (2006).

#include <chrono>
#include <cstdint>
#include <string>
#include <vector>

#include <CLI/CLI.hpp>
#include <fmt/format.h>
#include <fmt/ranges.h>

#include "plan/check_project.hpp"
#include "plan/improve_project.hpp"
#include "plan_instances.hpp"

namespace {

using namespace rollwright;

constexpr int kNoData = 3;
constexpr int kWholeSet = 480;
/// The aim this house has set itself for 50,000 schedules, in percent above the optimum.
constexpr double kMostMeanGapPercent = 0.05;

int no_data(const std::string& sentence) {
  fmt::print(stderr, "{}\n", sentence);
  return kNoData;
}

struct Tally {
  int instances = 0;
  int at_optimum = 0;
  int infeasible = 0;
  int below_optimum = 0;  // would mean that the data or the checker are wrong
  long long schedules = 0;
  double gap_percent_sum = 0;
  double seconds = 0;
};

struct Effort {
  std::uint64_t seed = 1;
  long long schedules = 50'000;
};

void measure(const std::string& name, const plan::Project& project, int optimum,
             const Effort& effort, Tally& tally) {
  const auto begin = std::chrono::steady_clock::now();
  const auto improved = plan::improve_project(project, effort.seed, effort.schedules);
  const std::chrono::duration<double> spent = std::chrono::steady_clock::now() - begin;
  const std::vector<std::string> wrong = plan::check_project(project, improved.best.starts);
  const int makespan = plan::makespan_of(project, improved.best.starts);
  for (const std::string& sentence : wrong) fmt::print("{}: {}\n", name, sentence);
  if (makespan != optimum) fmt::print("{}: {}, optimum {}.\n", name, makespan, optimum);
  ++tally.instances;
  tally.infeasible += wrong.empty() ? 0 : 1;
  tally.at_optimum += makespan == optimum ? 1 : 0;
  tally.below_optimum += makespan < optimum ? 1 : 0;
  tally.schedules += improved.schedules;
  tally.gap_percent_sum += 100.0 * (makespan - optimum) / optimum;
  tally.seconds += spent.count();
}

int report(const Tally& tally, const Effort& effort) {
  const double mean_gap = tally.gap_percent_sum / tally.instances;
  const bool feasible = tally.infeasible == 0;
  fmt::print("{} of {} at the proved optimum; mean gap {:.3f} %, aim {:.2f} %.\n",
             tally.at_optimum, tally.instances, mean_gap, kMostMeanGapPercent);
  fmt::print("At most {} schedules each, {} generated in all, {:.2f} s, seed {}.\n",
             effort.schedules, tally.schedules, tally.seconds, effort.seed);
  fmt::print("The independent checker finds {}.\n",
             feasible ? "every schedule feasible"
                      : fmt::format("{} schedules infeasible", tally.infeasible));
  const bool holds = feasible && tally.below_optimum == 0 && mean_gap <= kMostMeanGapPercent;
  fmt::print("{{\"name\":\"j30-sample\",\"holds\":{},\"figures\":{{\"mean_gap_percent\":{:.4f},"
             "\"feasible\":{},\"instances\":{},\"at_optimum\":{},\"schedules\":{},"
             "\"schedules_generated\":{},\"seconds\":{:.3f}}}}}\n",
             holds, mean_gap, feasible, tally.instances, tally.at_optimum, effort.schedules,
             tally.schedules, tally.seconds);
  return holds ? 0 : 1;
}

int run(const std::string& data, int instances, const Effort& effort) {
  const auto all = bench::library_set(data, "j30");
  if (!all) return no_data(all.error().full());
  std::vector<std::string> names;
  std::vector<const bench::Instance*> taken;
  for (int i = 0; i < instances; ++i) {
    const std::size_t place = static_cast<std::size_t>(i) * all->size();
    taken.push_back(&(*all)[place / static_cast<std::size_t>(instances)]);
    names.push_back(taken.back()->name);
  }
  fmt::print("{} of the {} projects of 30 activities, spread evenly over the set:\n{}.\n",
             instances, all->size(), fmt::join(names, ", "));
  Tally tally;
  for (const bench::Instance* each : taken) {
    if (!each->published.closed()) {
      return no_data("The list has no optimum for " + each->name + ".");
    }
    measure(each->name, each->project, each->published.known, effort, tally);
  }
  return report(tally, effort);
}

}  // namespace

int main(int argc, char** argv) {
  std::string data = ROLLWRIGHT_ROOT "/../shared";
  int instances = 20;
  Effort effort;
  CLI::App app{"Plans benchmark projects of 30 activities and compares with the proved optima."};
  app.add_option("--data", data, "folder that holds reference/planning")
      ->envname("ROLLWRIGHT_SHARED");
  app.add_option("--instances", instances, "how many projects, spread evenly over the 480")
      ->check(CLI::Range(1, kWholeSet));
  app.add_option("--schedules", effort.schedules, "most schedules to generate for each")
      ->check(CLI::Range(0LL, 1'000'000'000LL));
  app.add_option("--seed", effort.seed, "start of the random numbers");
  CLI11_PARSE(app, argc, argv);
  return run(data, instances, effort);
}
