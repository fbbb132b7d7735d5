#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/clock.hpp"

/// What the use case Shop::kept answers; the JSON of --json and the HTTP API has the same names.
namespace rollwright::shop {

/// Promises that were said with like chances, and how many were kept.
struct KeptBandView {
  std::string words;  // "80 to 89 in 100"; "all"
  int promises = 0;
  int kept = 0;
  double said = 0;    // mean chance said, 0 to 1
  int least = 0;      // if the chances were true, so many at least, nine times in ten
  int most = 0;       // and so many at most
};

struct KeptMonthView {
  std::string month;  // of the promised day, "2026-03"
  int promises = 0;
  int kept = 0;
  double days_late = 0;  // mean of those that were late, calendar days
};

struct KeptLineView {
  std::string order;
  Day said = {};
  Day promised = {};
  int in_100 = 0;
  std::optional<Day> ready;
  int days_late = 0;   // calendar days; negative: sooner than promised
  bool kept = false;
};

/// What promising in another way would have kept, on the same bikes.
struct OtherWayView {
  std::string words;
  int kept = 0;
  double days_longer = 0;  // calendar days later promised than what was, on average
};

/// Deliveries replayed: what was known before each month would have said of those after.
struct DeliveryBandView {
  int in_100 = 0;       // said to be here by that day
  int came = 0;         // of all deliveries replayed
  double share = 0;
};

struct KeptView {
  std::string sentence;
  KeptBandView all;
  std::vector<KeptBandView> bands;      // by the chance said, rising
  std::vector<KeptMonthView> months;    // oldest first
  std::vector<OtherWayView> other_ways;
  std::vector<KeptLineView> lines;      // newest promised day first
  int open = 0;                         // said, and the bike is not ready yet
  int deliveries = 0;
  std::vector<DeliveryBandView> delivery_bands;
};

}  // namespace rollwright::shop
