#include "cli/schedule_files.hpp"

#include <algorithm>
#include <ctime>
#include <filesystem>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "base/text.hpp"
#include "cli/columns.hpp"
#include "plan/balance_line.hpp"
#include "plan/check_line.hpp"
#include "plan/check_project.hpp"
#include "plan/improve_project.hpp"
#include "plan/prove_project.hpp"
#include "plan/read_bounds.hpp"
#include "plan/read_job_shop.hpp"
#include "plan/read_line.hpp"
#include "plan/read_sm.hpp"

namespace rollwright::cli {
namespace fs = std::filesystem;
namespace {

constexpr double kLineSeconds = 1;

double cpu_seconds() { return static_cast<double>(std::clock()) / CLOCKS_PER_SEC; }

std::string ending_of(const fs::path& file) { return lowered(file.extension().string()); }

bool is_ours(const fs::path& file) {
  const std::string ending = ending_of(file);
  return ending == ".sm" || ending == ".txt" || ending == ".in2" || ending == ".alb";
}

Result<std::vector<fs::path>> files_at(const std::string& path) {
  std::error_code trouble;
  if (fs::is_regular_file(path, trouble)) return std::vector<fs::path>{path};
  if (!fs::is_directory(path, trouble)) {
    return refuse(Code::kNotFound, "there is no such file or folder", {.file = path});
  }
  std::vector<fs::path> files;
  for (const fs::directory_entry& entry : fs::directory_iterator(path, trouble)) {
    if (is_ours(entry.path())) files.push_back(entry.path());
  }
  if (trouble) return refuse(Code::kUnavailable, "the folder cannot be read", {.file = path});
  if (files.empty()) {
    return refuse(Code::kNotFound, "the folder has no file that ends in .sm, .txt, .IN2 or .alb",
                  {.file = path});
  }
  std::sort(files.begin(), files.end());
  return files;
}

Result<plan::BoundsList> bounds_at(const std::string& path) {
  if (path.empty()) return plan::BoundsList{};
  const Result<std::string> text = read_file(path);
  if (!text) return std::unexpected(text.error());
  return plan::read_bounds(*text, path);
}

void schedule_project(const plan::Project& project, const ScheduleFilesOptions& options,
                      ScheduledFile& row) {
  const double begin = cpu_seconds();
  const auto improved = plan::improve_project(project, options.seed, options.schedules);
  plan::ProvedProject best{.best = improved.best, .lower_bound = improved.lower_bound};
  if (options.prove_s > 0) {
    const double stop = cpu_seconds() + options.prove_s;
    best = plan::prove_project(project, improved.best,
                               {.most_conflicts = 1LL << 50,
                                .stop = [stop] { return cpu_seconds() > stop; }});
  }
  row.seconds = cpu_seconds() - begin;
  row.unit = "time units";
  row.result = plan::makespan_of(project, best.best.starts);
  row.bound = best.lower_bound;
  row.schedules = improved.schedules;
  row.proved = best.proved();
  row.wrong = plan::check_project(project, best.best.starts);
}

Result<void> balance(const plan::LineFile& file, const ScheduleFilesOptions& options,
                     ScheduledFile& row) {
  const double begin = cpu_seconds();
  const double stop = begin + (options.prove_s > 0 ? options.prove_s : kLineSeconds);
  const plan::BalanceLimits limits{.most_steps = 1LL << 50,
                                   .stop = [stop] { return cpu_seconds() > stop; }};
  const int takt = options.takt > 0 ? options.takt : file.takt;
  if (takt == 0 && options.stations == 0) {
    return refuse(Code::kBadInput, "the file states no takt; give one with --takt, or --stations",
                  {.file = row.file});
  }
  const auto best = options.stations > 0
                        ? plan::shortest_takt(file.line, options.stations, limits)
                        : plan::fewest_stations(file.line, takt, limits);
  if (!best) {
    Error error = best.error();
    error.place.file = row.file;
    return std::unexpected(std::move(error));
  }
  row.seconds = cpu_seconds() - begin;
  row.unit = options.stations > 0 ? "time units" : "stations";
  row.result = options.stations > 0 ? best->takt : best->stations;
  row.bound = best->lower_bound;
  row.proved = best->proved;
  row.wrong = plan::check_line(file.line, best->station_of, best->stations, best->takt);
  return {};
}

Result<void> plan_file(const fs::path& path, const ScheduleFilesOptions& options,
                       ScheduledFile& row) {
  const Result<std::string> text = read_file(path.string());
  if (!text) return std::unexpected(text.error());
  const std::string ending = ending_of(path);
  if (ending == ".in2" || ending == ".alb") {
    const auto line = plan::read_line_file(*text, row.file);
    if (!line) return std::unexpected(line.error());
    return balance(*line, options, row);
  }
  const auto project = ending == ".sm" ? plan::read_sm(*text, row.file)
                                       : plan::read_job_shop(*text, row.file);
  if (!project) return std::unexpected(project.error());
  schedule_project(*project, options, row);
  return {};
}

/// Below what others have proved: one of us is wrong.
bool contradicts(const ScheduledFile& row) {
  if (!row.refusal.empty()) return false;
  return row.result < row.bound ||
         (row.proved && 0 <= row.best_known && row.best_known < row.result);
}

void add_published(const plan::PublishedBounds& published, ScheduledFile& row) {
  row.best_known = published.known;
  row.bound = std::max<long long>(row.bound, published.least);
}

std::string verdict_of(const ScheduledFile& row) {
  if (!row.wrong.empty()) return "not feasible: " + row.wrong.front();
  if (contradicts(row)) return "contradicts the list of bounds";
  if (row.proved) return "feasible, proved";
  return row.result == row.bound ? "feasible, at the bound" : "feasible";
}

}  // namespace

Result<std::vector<ScheduledFile>> schedule_files(const ScheduleFilesOptions& options) {
  const auto published = bounds_at(options.bounds);
  if (!published) return std::unexpected(published.error());
  const auto files = files_at(options.path);
  if (!files) return std::unexpected(files.error());
  std::vector<ScheduledFile> rows;
  for (const fs::path& file : *files) {
    ScheduledFile& row = rows.emplace_back();
    row.file = file.filename().string();
    if (const auto done = plan_file(file, options, row); !done) {
      row.refusal = done.error().full();
      continue;
    }
    const auto known = published->find(file.stem().string());
    if (known != published->end()) add_published(known->second, row);
    if (row.bound > 0) {
      row.gap_percent = 100.0 * static_cast<double>(row.result - row.bound) /
                        static_cast<double>(row.bound);
    }
  }
  return rows;
}

std::string as_text(const std::vector<ScheduledFile>& files) {
  using Side = Columns::Side;
  Columns columns({Side::kLeft, Side::kRight, Side::kRight, Side::kRight, Side::kRight,
                   Side::kRight, Side::kLeft});
  columns.row({"file", "result", "bound", "gap %", "schedules", "seconds", "checked"});
  double gaps = 0;
  int planned = 0;
  std::string refused;
  for (const ScheduledFile& row : files) {
    if (!row.refusal.empty()) {
      refused += row.refusal + "\n";
      continue;
    }
    columns.row({row.file, std::to_string(row.result), std::to_string(row.bound),
                 fmt::format("{:.2f}", row.gap_percent), std::to_string(row.schedules),
                 fmt::format("{:.3f}", row.seconds), verdict_of(row)});
    gaps += row.gap_percent;
    ++planned;
  }
  std::string text = planned > 0 ? columns.text() : "";
  if (planned > 0) {
    text += fmt::format("{} planned, {:.3f} % above the bound on average.\n", planned,
                        gaps / planned);
  }
  return text + (refused.empty() ? "" : "Not read:\n" + refused);
}

std::string as_json(const std::vector<ScheduledFile>& files) {
  nlohmann::ordered_json rows = nlohmann::ordered_json::array();
  for (const ScheduledFile& row : files) {
    if (!row.refusal.empty()) {
      rows.push_back({{"file", row.file}, {"refusal", row.refusal}});
      continue;
    }
    nlohmann::ordered_json one = {{"file", row.file},
                                  {"result", row.result},
                                  {"unit", row.unit},
                                  {"bound", row.bound},
                                  {"gap_percent", row.gap_percent},
                                  {"schedules", row.schedules},
                                  {"seconds", row.seconds},
                                  {"proved", row.proved},
                                  {"feasible", row.wrong.empty()},
                                  {"wrong", row.wrong}};
    if (row.best_known >= 0) one["best_known"] = row.best_known;
    rows.push_back(std::move(one));
  }
  return rows.dump(2);
}

int exit_code_of(const std::vector<ScheduledFile>& files) {
  const bool unread = std::any_of(files.begin(), files.end(),
                                  [](const ScheduledFile& row) { return !row.refusal.empty(); });
  const bool wrong = std::any_of(files.begin(), files.end(), [](const ScheduledFile& row) {
    return !row.wrong.empty() || contradicts(row);
  });
  if (wrong) return row_of(Code::kContradiction).exit_code;
  return unread ? row_of(Code::kBadInput).exit_code : 0;
}

}  // namespace rollwright::cli
