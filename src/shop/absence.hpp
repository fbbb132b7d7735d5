#pragma once

#include <utility>
#include <vector>

#include "base/clock.hpp"

namespace rollwright::shop {

/// From one day to another, both included.
struct DaysAway {
  Day first = {};
  Day last = {};
  bool is_back = false;  // takes these days off what was told before
};

/// Days away with these added or taken off: ascending, apart.
[[nodiscard]] std::vector<std::pair<Day, Day>> away_with(std::vector<std::pair<Day, Day>> away,
                                                         const DaysAway& days);

}  // namespace rollwright::shop
