// Proves projects shortest, each within a second of CPU time: a short search for a good plan, then
// the exact search. Says how many were proved, and whether anything contradicts what is published.
//
// Data: the open library's projects of 30 activities, or any folder of .sm files.

#include <algorithm>

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include "plan/check_project.hpp"
#include "plan/improve_project.hpp"
#include "plan/prove_project.hpp"
#include "plan_instances.hpp"

namespace {

using namespace rollwright;

struct Trial {
  double most_seconds = 1;
  long long first_schedules = 1'000;
  double least_share_proved = 460.0 / 480;  // the aim this house has set itself
};

struct Tally {
  int proved = 0;
  int contradictions = 0;
  long long conflicts = 0;
  double seconds = 0;
  double longest_s = 0;
};

/// What contradicts the checker or what is published; empty when nothing does.
std::string contradiction(const bench::Instance& instance, const plan::ProvedProject& proved) {
  const plan::PublishedBounds& published = instance.published;
  const auto wrong = plan::check_project(instance.project, proved.best.starts);
  if (!wrong.empty()) return wrong.front();
  const int length = plan::makespan_of(instance.project, proved.best.starts);
  if (length != proved.best.makespan) return "the plan is not as long as it is said to be";
  if (length < published.least) return fmt::format("{} < published {}", length, published.least);
  if (published.known >= 0 && proved.lower_bound > published.known) {
    return fmt::format("{} said to be least, {} published", proved.lower_bound, published.known);
  }
  return {};
}

void prove(const bench::Instance& instance, const Trial& trial, Tally& tally) {
  const double begin = bench::cpu_seconds();
  const auto spent = [begin] { return bench::cpu_seconds() - begin; };
  const auto improved = plan::improve_project(instance.project, 1, trial.first_schedules);
  // A little less than the time, because the clock is asked only now and then.
  plan::ProofLimits limits{.most_conflicts = 1LL << 40};
  limits.stop = [&] { return spent() > 0.95 * trial.most_seconds; };
  const plan::ProvedProject proved = plan::prove_project(instance.project, improved.best, limits);
  const bool in_time = proved.proved() && spent() <= trial.most_seconds;
  tally.longest_s = std::max(tally.longest_s, spent());
  tally.seconds += spent();
  tally.proved += in_time ? 1 : 0;
  tally.conflicts += proved.conflicts;
  if (!in_time) {
    fmt::print("{}: between {} and {}, not proved in time.\n", instance.name, proved.lower_bound,
               proved.best.makespan);
  }
  const std::string wrong = contradiction(instance, proved);
  if (wrong.empty()) return;
  ++tally.contradictions;
  fmt::print("{}: {}\n", instance.name, wrong);
}

int run(const std::vector<bench::Instance>& instances, const Trial& trial) {
  Tally tally;
  for (const bench::Instance& instance : instances) prove(instance, trial, tally);
  const double share = static_cast<double>(tally.proved) / static_cast<double>(instances.size());
  const bool holds = tally.contradictions == 0 && share >= trial.least_share_proved;
  fmt::print("{} of {} projects proved within {} s each; {} contradictions.\n", tally.proved,
             instances.size(), trial.most_seconds, tally.contradictions);
  fmt::print("{{\"name\":\"plan-exact\",\"holds\":{},\"figures\":{{\"proved\":{},\"instances\":{},"
             "\"contradictions\":{},\"conflicts\":{},\"seconds\":{:.3f},\"longest_s\":{:.3f}}}}}\n",
             holds, tally.proved, instances.size(), tally.contradictions, tally.conflicts,
             tally.seconds, tally.longest_s);
  return holds ? 0 : 1;
}

}  // namespace

int main(int argc, char** argv) {
  std::string data = ROLLWRIGHT_ROOT "/../shared";
  std::string folder;
  std::string bounds;
  int step = 1;
  Trial trial;
  CLI::App app{"Proves benchmark projects shortest, each within a second of CPU time."};
  app.add_option("folder", folder, "folder of .sm files; the library's set when left out");
  app.add_option("--bounds", bounds, "CSV with the columns instance, best_lb and best_ub");
  app.add_option("--data", data, "folder that holds reference/planning")
      ->envname("ROLLWRIGHT_SHARED");
  app.add_option("--step", step, "take every so many-th project")->check(CLI::Range(1, 100'000));
  app.add_option("--seconds", trial.most_seconds, "CPU time for each")
      ->check(CLI::Range(0.01, 1e5));
  app.add_option("--first", trial.first_schedules, "schedules generated before the exact search")
      ->check(CLI::Range(0LL, 1'000'000LL));
  CLI11_PARSE(app, argc, argv);
  const auto instances = folder.empty() ? bench::library_set(data, "j30", step)
                                        : bench::projects_in(folder, bounds, step);
  if (!instances) {
    fmt::print(stderr, "{}\n", instances.error().full());
    return 3;
  }
  return run(*instances, trial);
}
