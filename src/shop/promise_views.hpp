#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/clock.hpp"

/// What is answered about the day of one order.
namespace rollwright::shop {

struct CurvePoint {
  Day day = {};
  double probability = 0;
};
struct HoldView {
  std::string what;   // "Rear hub, on order since 9 November"
  std::string kind;   // part, queue, work
  double share = 0;   // of the draws in which it was what the bike waited for
};
struct PromiseView {
  std::string order;
  std::string sentence;
  std::optional<Day> promised;
  std::optional<double> chance_kept;  // of the promised day
  Day day_50 = {};
  Day day_80 = {};
  Day day_90 = {};
  Day day_95 = {};
  Day day_90_simulated = {};          // before the shop's own record set the odds right
  int promises_known = 0;             // of that record: with the day on which the bike was ready
  std::vector<CurvePoint> curve;
  std::vector<HoldView> holds;
  int draws = 0;
  std::int64_t placements = 0;
  double seconds = 0;
};

}  // namespace rollwright::shop
