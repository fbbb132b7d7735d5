#pragma once

#include <array>
#include <string>
#include <utility>
#include <vector>

#include "base/clock.hpp"
#include "trade/order.hpp"

namespace rollwright::trade {

/// From and to, minutes of the local day.
using Hours = std::vector<std::pair<int, int>>;

struct Person {
  PersonId id;
  std::string name;
  std::vector<std::string> roles;   // owner, desk, bench
  std::vector<std::string> skills;  // L1, L2, L3, WB, LE, DG, AD; L3 includes L2 includes L1
  std::array<Hours, 7> week;        // Monday first, breaks left out
  double productive = 0.7;          // share of paid time that reaches the bikes
  std::vector<std::pair<Day, Day>> away;  // first and last day
};

struct Area {
  std::string id;  // "wheel bench"
  int stands = 1;
};

/// The shop itself.
struct ShopSettings {
  std::string name;
  std::string town;
  std::string currency = "EUR";
  std::string time_zone = "Europe/Berlin";
  bool invented = false;          // demo data says so on every page
  Money hourly_rate;
  double walk_in_share = 0.35;    // of each day kept for walk-ins
  double absence_chance = 0.03;   // per person and day
  /// How surely a part must be here on the day that is shown for a bike: 0.5 to 0.999.
  double promise_confidence = 0.90;
  std::vector<Day> closed;        // holidays
};

}  // namespace rollwright::trade
