#include "base/working_days.hpp"

#include <algorithm>

namespace rollwright {

bool is_working_day(Day day, const std::vector<Day>& closed) {
  const unsigned weekday = std::chrono::weekday{day}.iso_encoding();
  return weekday <= 5 && std::find(closed.begin(), closed.end(), day) == closed.end();
}

Day add_working_days(Day from, int count, const std::vector<Day>& closed) {
  const std::chrono::days step(count < 0 ? -1 : 1);
  for (int left = count < 0 ? -count : count; left > 0;) {
    from += step;
    if (is_working_day(from, closed)) --left;
  }
  return from;
}

int working_days_between(Day from, Day to, const std::vector<Day>& closed) {
  if (to < from) return -working_days_between(to, from, closed);
  int count = 0;
  for (Day day = from; day < to;) {
    day += std::chrono::days(1);
    if (is_working_day(day, closed)) ++count;
  }
  return count;
}

}  // namespace rollwright
