// As plan-j30 and plan-j60, for the `.sm` projects of any folder: how far the plans are above the
// critical path on average, and above the best known where a list of bounds is given.

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include "plan_quality.hpp"

int main(int argc, char** argv) {
  using namespace rollwright::bench;
  std::string data;
  std::string folder;
  std::string bounds;
  bool from_known = false;
  int step = 1;
  QualityTrial trial{.name = "plan-set"};
  CLI::App app{"Plans the projects of a folder at three budgets of schedules."};
  app.add_option("folder", folder, "folder of .sm files")->required();
  app.add_option("--data", data, "not needed here");
  app.add_option("--bounds", bounds, "CSV with the columns instance, best_lb and best_ub");
  app.add_flag("--from-best-known", from_known, "measure from best_ub, not the critical path");
  app.add_option("--step", step, "take every so many-th project")->check(CLI::Range(1, 100'000));
  app.add_option("--schedules", trial.most_schedules, "leave out budgets above this")
      ->check(CLI::Range(1'000LL, 50'000LL));
  app.add_option("--seed", trial.seed, "start of the random numbers");
  CLI11_PARSE(app, argc, argv);
  trial.yardstick = from_known ? Yardstick::kKnown : Yardstick::kCriticalPath;
  const auto instances = projects_in(folder, bounds, step);
  if (!instances) {
    fmt::print(stderr, "{}\n", instances.error().full());
    return 3;
  }
  return tell_quality(*instances, trial);
}
