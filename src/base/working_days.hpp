#pragma once

#include <vector>

#include "base/clock.hpp"

namespace rollwright {

/// Monday to Friday, less the closed days given (ascending or not): the days on which carriers come
/// and suppliers count their lead times.
[[nodiscard]] bool is_working_day(Day day, const std::vector<Day>& closed = {});

/// The day that comes `count` working days after `from`; before it when `count` is negative. Zero
/// gives `from` itself, also on a Sunday.
[[nodiscard]] Day add_working_days(Day from, int count, const std::vector<Day>& closed = {});

/// Working days after `from` up to and including `to`: Friday to Monday is 1. Negative when `to`
/// is earlier.
[[nodiscard]] int working_days_between(Day from, Day to, const std::vector<Day>& closed = {});

}  // namespace rollwright
