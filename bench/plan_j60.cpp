// Plans the projects of 60 activities of the open library with 1,000, 5,000 and 50,000 schedules and
// says how far the plans are above the critical path on average.
//
// Data: Kolisch and Sprecher, EJOR 96 (1996).

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include "plan_quality.hpp"

int main(int argc, char** argv) {
  using namespace rollwright::bench;
  std::string data = ROLLWRIGHT_ROOT "/../shared";
  int step = 1;
  QualityTrial trial{.name = "plan-j60",
                     .yardstick = Yardstick::kCriticalPath,
                     .aims = {.at_5000_percent = 11.1, .at_50000_percent = 10.75}};
  CLI::App app{"Plans the benchmark projects of 60 activities at three budgets of schedules."};
  app.add_option("--data", data, "folder that holds reference/planning")
      ->envname("ROLLWRIGHT_SHARED");
  app.add_option("--step", step, "take every so many-th project")->check(CLI::Range(1, 480));
  app.add_option("--schedules", trial.most_schedules, "leave out budgets above this")
      ->check(CLI::Range(1'000LL, 50'000LL));
  app.add_option("--seed", trial.seed, "start of the random numbers");
  CLI11_PARSE(app, argc, argv);
  const auto instances = library_set(data, "j60", step);
  if (!instances) {
    fmt::print(stderr, "{}\n", instances.error().full());
    return 3;
  }
  return tell_quality(*instances, trial);
}
