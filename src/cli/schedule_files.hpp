#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "base/result.hpp"

/// `rollwright schedule-files`: plans or balances every benchmark file of a folder. Needs no book.
namespace rollwright::cli {

struct ScheduleFilesOptions {
  std::string path;    // a folder, or one file: .sm projects, .txt job shops, .IN2 and .alb lines
  std::string bounds;  // CSV with instance, best_lb and best_ub; empty: none
  long long schedules = 50'000;  // most to generate for a project or job shop
  std::uint64_t seed = 1;
  double prove_s = 0;  // CPU seconds for a proof of each; 0: only bounds (lines: one second)
  int takt = 0;        // of lines, in time units; 0: as the file says
  int stations = 0;    // of lines: the shortest takt for so many; 0: the fewest for the takt
};

/// What came of one file.
struct ScheduledFile {
  std::string file;
  std::string refusal;  // why it could not be read or planned; the rest is then empty
  std::string unit;     // of result and bound: "time units", "stations"
  long long result = 0;
  long long bound = 0;      // no plan is better than this: our own, or published if that says more
  double gap_percent = 0;   // of the result above the bound
  long long best_known = -1;  // published; -1 when not
  long long schedules = 0;  // generated: serial passes and passes that push late or early
  double seconds = 0;       // CPU time
  bool proved = false;      // by ourselves
  std::vector<std::string> wrong;  // what the independent checker finds; empty: feasible
};

/// In the order of the files' names. Errors: no such folder, no such file in it, a bad list of
/// bounds. A file that cannot be read has a row that says why.
[[nodiscard]] Result<std::vector<ScheduledFile>> schedule_files(
    const ScheduleFilesOptions& options);

[[nodiscard]] std::string as_text(const std::vector<ScheduledFile>& files);
[[nodiscard]] std::string as_json(const std::vector<ScheduledFile>& files);

/// 0 when every file was read and every plan is feasible and contradicts no published bound.
[[nodiscard]] int exit_code_of(const std::vector<ScheduledFile>& files);

}  // namespace rollwright::cli
