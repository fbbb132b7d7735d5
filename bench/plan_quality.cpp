#include "plan_quality.hpp"

#include <algorithm>

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include "plan/check_project.hpp"
#include "plan/improve_project.hpp"
#include "plan/project_bound.hpp"

namespace rollwright::bench {
namespace {

constexpr long long kBudgets[] = {1'000, 5'000, 50'000};

struct Row {
  long long budget = 0;
  double deviation_percent_sum = 0;
  double above_known_percent_sum = 0;
  int with_known = 0;
  int at_known = 0;
  int infeasible = 0;
  int contradictions = 0;  // below a published lower bound: data, checker or scheduler are wrong
  long long schedules = 0;
  double seconds = 0;
};

double percent_above(int length, int from) {
  return from == 0 ? 0.0 : 100.0 * (length - from) / from;
}

/// -1 where the yardstick is not known for the instance.
int yardstick_of(const Instance& instance, Yardstick yardstick) {
  if (yardstick == Yardstick::kKnown) return instance.published.known;
  return plan::bounds_of(instance.project).critical_path;
}

void add(const Instance& instance, int from, const plan::Schedule& best, Row& row) {
  const auto wrong = plan::check_project(instance.project, best.starts);
  const int length = plan::makespan_of(instance.project, best.starts);
  for (const std::string& sentence : wrong) fmt::print("{}: {}\n", instance.name, sentence);
  row.infeasible += wrong.empty() ? 0 : 1;
  row.contradictions += length < instance.published.least ? 1 : 0;
  row.deviation_percent_sum += percent_above(length, from);
  if (instance.published.known < 0) return;
  ++row.with_known;
  row.at_known += length <= instance.published.known ? 1 : 0;
  row.above_known_percent_sum += percent_above(length, instance.published.known);
}

void plan_one(const Instance& instance, int from, const QualityTrial& trial,
              std::vector<Row>& rows) {
  const double begin = cpu_seconds();
  plan::ProjectImprover improver(instance.project, trial.seed);
  for (Row& row : rows) {
    improver.run_to(row.budget);
    row.seconds += cpu_seconds() - begin;
    row.schedules += improver.schedules();
    add(instance, from, improver.best(), row);
  }
}

std::string json_of(const Row& row, std::size_t instances) {
  std::string text = fmt::format(
      "\"{}\":{{\"deviation_percent\":{:.4f},\"schedules_per_second\":{:.0f},\"infeasible\":{},"
      "\"contradictions\":{},\"instances\":{},\"seconds\":{:.3f}",
      row.budget, row.deviation_percent_sum / static_cast<double>(instances),
      static_cast<double>(row.schedules) / std::max(row.seconds, 1e-9), row.infeasible,
      row.contradictions, instances, row.seconds);
  if (row.with_known > 0) {
    text += fmt::format(",\"above_best_known_percent\":{:.4f},\"at_best_known\":{}",
                        row.above_known_percent_sum / row.with_known, row.at_known);
  }
  return text + "}";
}

}  // namespace

int tell_quality(const std::vector<Instance>& instances, const QualityTrial& trial) {
  std::vector<Row> rows;
  for (const long long budget : kBudgets) {
    if (budget <= trial.most_schedules) rows.push_back({.budget = budget});
  }
  for (const Instance& instance : instances) {
    const int from = yardstick_of(instance, trial.yardstick);
    if (from < 0) {
      fmt::print(stderr, "The list of bounds has no best_ub for {}.\n", instance.name);
      return 3;
    }
    plan_one(instance, from, trial, rows);
  }
  bool holds = true;
  std::string figures;
  for (const Row& row : rows) {
    const double deviation =
        row.deviation_percent_sum / static_cast<double>(instances.size());
    const bool from_known = trial.yardstick == Yardstick::kKnown;
    fmt::print("{:>6} schedules: {:.3f} % above {} over {} projects; {} infeasible.\n", row.budget,
               deviation, from_known ? "the best known" : "the critical path", instances.size(),
               row.infeasible);
    if (row.budget == 5'000) holds &= deviation <= trial.aims.at_5000_percent;
    if (row.budget == 50'000) holds &= deviation <= trial.aims.at_50000_percent;
    holds &= row.infeasible == 0 && row.contradictions == 0;
    figures += (figures.empty() ? "" : ",") + json_of(row, instances.size());
  }
  fmt::print("{{\"name\":\"{}\",\"holds\":{},\"figures\":{{{}}}}}\n", trial.name, holds, figures);
  return holds ? 0 : 1;
}

int library_quality(int argc, char** argv, const std::string& set, QualityTrial trial) {
  std::string data = ROLLWRIGHT_ROOT "/../shared";
  int step = 1;
  CLI::App app{"Plans the benchmark projects of " + set + " at three budgets of schedules."};
  app.add_option("--data", data, "folder that holds reference/planning")
      ->envname("ROLLWRIGHT_SHARED");
  app.add_option("--step", step, "take every so many-th project")->check(CLI::Range(1, 480));
  app.add_option("--schedules", trial.most_schedules, "leave out budgets above this")
      ->check(CLI::Range(1'000LL, 50'000LL));
  app.add_option("--seed", trial.seed, "start of the random numbers");
  CLI11_PARSE(app, argc, argv);
  const auto instances = library_set(data, set, step);
  if (!instances) {
    fmt::print(stderr, "{}\n", instances.error().full());
    return 3;
  }
  return tell_quality(*instances, trial);
}

}  // namespace rollwright::bench
