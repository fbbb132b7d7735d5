// Plans the oldest job shop of the literature, six jobs on six machines, and says whether the plan
// is feasible and how long it is beside the proved optimum.
//
// Data: Fisher and Thompson, in Muth and Thompson, Industrial Scheduling (1963); optimum from the
// list of job shop optima beside it. A checker that shares no code with the scheduler has the word.

#include <chrono>
#include <cstdint>
#include <optional>
#include <string>

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include "base/csv.hpp"
#include "base/text.hpp"
#include "plan/check_project.hpp"
#include "plan/improve_project.hpp"
#include "plan/read_job_shop.hpp"

namespace {

using namespace rollwright;

constexpr int kNoData = 3;

int no_data(const std::string& sentence) {
  fmt::print(stderr, "{}\n", sentence);
  return kNoData;
}

/// Optimum of a shop in the list, which has the columns instance, jobs, machines, optimum.
std::optional<long long> listed_optimum(const Csv& list, std::string_view shop) {
  const int name = list.column("instance");
  const int optimum = list.column("optimum");
  if (name < 0 || optimum < 0) return std::nullopt;
  for (const CsvRow& row : list.rows) {
    if (row.cells[static_cast<std::size_t>(name)] != shop) continue;
    return to_whole(row.cells[static_cast<std::size_t>(optimum)]);
  }
  return std::nullopt;
}

int report(const plan::Project& project, long long optimum, std::uint64_t seed, long long budget) {
  const auto begin = std::chrono::steady_clock::now();
  const plan::ImprovedProject improved = plan::improve_project(project, seed, budget);
  const std::chrono::duration<double, std::milli> spent = std::chrono::steady_clock::now() - begin;

  const std::vector<std::string> wrong = plan::check_project(project, improved.best.starts);
  const int makespan = plan::makespan_of(project, improved.best.starts);
  fmt::print("Job shop ft06: six jobs, six machines, {} steps.\n", project.size());
  fmt::print("Makespan {} of the plan; {} is the proved optimum, {} our own lower bound.\n",
             makespan, optimum, improved.lower_bound);
  fmt::print("{} of at most {} schedules in {:.0f} ms, seed {}.\n", improved.schedules, budget,
             spent.count(), seed);
  for (const std::string& sentence : wrong) fmt::print("{}\n", sentence);
  fmt::print("The independent checker finds {}.\n",
             wrong.empty() ? "nothing wrong with it"
                           : fmt::format("{} things wrong with it", wrong.size()));
  const bool holds = wrong.empty() && makespan == optimum;
  fmt::print("{{\"name\":\"ft06\",\"holds\":{},\"figures\":{{\"makespan\":{},\"optimum\":{},"
             "\"feasible\":{},\"lower_bound\":{},\"schedules\":{},\"milliseconds\":{:.1f}}}}}\n",
             holds, makespan, optimum, wrong.empty(), improved.lower_bound, improved.schedules,
             spent.count());
  return holds ? 0 : 1;
}

}  // namespace

int main(int argc, char** argv) {
  std::string data = ROLLWRIGHT_ROOT "/../shared";
  std::uint64_t seed = 1;
  long long budget = 50'000;
  CLI::App app{"Plans the six by six job shop ft06 and compares the plan with the proved optimum."};
  app.add_option("--data", data, "folder that holds reference/planning")
      ->envname("ROLLWRIGHT_SHARED");
  app.add_option("--seed", seed, "start of the random numbers");
  app.add_option("--schedules", budget, "most schedules to generate")
      ->check(CLI::Range(0LL, 1'000'000'000LL));
  CLI11_PARSE(app, argc, argv);

  const std::string folder = data + "/reference/planning/jobshop/";
  const auto text = read_file(folder + "ft06.txt");
  if (!text) return no_data("The job shop data are missing: " + text.error().sentence + ".");
  const auto project = plan::read_job_shop(*text, folder + "ft06.txt");
  if (!project) return no_data(project.error().full());
  const auto list_text = read_file(folder + "optima.csv");
  if (!list_text) return no_data("The optima are missing: " + list_text.error().sentence + ".");
  const auto list = parse_csv(*list_text, folder + "optima.csv");
  if (!list) return no_data(list.error().full());
  const std::optional<long long> optimum = listed_optimum(*list, "ft06");
  if (!optimum) return no_data(folder + "optima.csv has no optimum for ft06.");
  return report(*project, *optimum, seed, budget);
}
