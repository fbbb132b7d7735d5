#include "cli/schedule_files.hpp"
#include "cli/verbs.hpp"

namespace rollwright::cli {
namespace {

int schedule(const ScheduleFilesOptions& wish, const Common& common) {
  const auto files = schedule_files(wish);
  if (!files) return fail(common, files.error());
  std::cout << (common.json ? as_json(*files) + "\n" : as_text(*files));
  return exit_code_of(*files);
}

}  // namespace

void add_file_verbs(Verbs& verbs) {
  const auto wish = std::make_shared<ScheduleFilesOptions>();
  auto* sub = verbs.add_bookless(
      "schedule-files", "plan every benchmark project, job shop or line of a folder",
      [wish](const Common& common) { return schedule(*wish, common); });
  sub->add_option("path", wish->path, "a folder or file: .sm, .txt (job shop), .IN2, .alb")
      ->required();
  sub->add_option("--bounds", wish->bounds, "published bounds: instance, best_lb, best_ub (CSV)");
  sub->add_option("--schedules", wish->schedules, "most schedules to generate for each")
      ->check(CLI::Range(0LL, 1'000'000'000LL));
  sub->add_option("--seed", wish->seed, "start of the random numbers");
  sub->add_option("--prove", wish->prove_s, "CPU seconds to spend on a proof of each")
      ->check(CLI::Range(0.0, 1e6));
  sub->add_option("--takt", wish->takt, "of lines, in time units; as in the file when left out")
      ->check(CLI::Range(1, 1'000'000'000));
  sub->add_option("--stations", wish->stations, "of lines: the shortest takt for so many")
      ->check(CLI::Range(1, 2'000));
}

}  // namespace rollwright::cli
