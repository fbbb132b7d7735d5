#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "plan_instances.hpp"

/// How good the scheduler's plans are after so many schedules, over a whole set.
namespace rollwright::bench {

/// What a deviation is measured from.
enum class Yardstick {
  kKnown,         // the shortest schedule published; the proved optimum for 30 activities
  kCriticalPath,  // the longest chain of activities that wait for each other
};

struct QualityAims {
  double at_5000_percent = 1e9;  // none by default
  double at_50000_percent = 1e9;
};

struct QualityTrial {
  std::string name;  // of the measurement
  Yardstick yardstick = Yardstick::kCriticalPath;
  std::uint64_t seed = 1;
  long long most_schedules = 50'000;
  QualityAims aims;
};

/// Plans every instance with 1,000, 5,000 and 50,000 schedules (those up to `most_schedules`), one
/// search going on from budget to budget, and prints what came of it; the last line is JSON.
/// Counting: every serial generation and every pass that pushes late or early is one schedule, as
///           in Kolisch and Hartmann, EJOR 174 (2006).
/// Returns the exit code: 0 when every plan is feasible by `check_project`, none is below a
/// published lower bound and the aims are reached.
[[nodiscard]] int tell_quality(const std::vector<Instance>& instances, const QualityTrial& trial);

/// A whole measurement of one set of the open library, "j30" or "j60": reads the words of the
/// command line, plans, tells. Returns the exit code; 3 when the set cannot be read.
[[nodiscard]] int library_quality(int argc, char** argv, const std::string& set,
                                  QualityTrial trial);

}  // namespace rollwright::bench
