#include "plan/person_hours.hpp"

#include <algorithm>
#include <cmath>

namespace rollwright::plan {

PersonHours::PersonHours(const std::vector<Window>& hours, double share)
    : hours_(hours), worked_before_(hours.size() + 1), last_of_day_(hours.size()), share_(share) {
  for (std::size_t at = 0; at < hours.size(); ++at) {
    worked_before_[at + 1] = worked_before_[at] + hours[at].to - hours[at].from;
  }
  for (std::size_t at = hours.size(); at-- > 0;) {
    const bool ends_day = at + 1 == hours.size() ||
                          hours[at + 1].from / kMinutesPerDay != hours[at].from / kMinutesPerDay;
    last_of_day_[at] = ends_day ? at : last_of_day_[at + 1];
  }
}

int PersonHours::minutes_at_work(double hands_on) const {
  // The small allowance keeps 30 / 0.6 from becoming 51 by rounding in the last binary place.
  return std::max(1, static_cast<int>(std::ceil(hands_on / share_ - 1e-9)));
}

std::size_t PersonHours::window_after(int minute) const {
  const auto found = std::ranges::upper_bound(hours_, minute, {}, &Window::to);
  return static_cast<std::size_t>(found - hours_.begin());
}

PersonHours::Stay PersonHours::earliest(int from, int minutes, Pause pause) const {
  for (std::size_t at = window_after(from); at < hours_.size();) {
    const int start = std::max(from, hours_[at].from);
    const int end_at_work = worked_before_[at] + start - hours_[at].from + minutes;
    std::size_t last = hours_.size() - 1;
    if (pause == Pause::kNever) last = at;
    if (pause == Pause::kWithinDay) last = last_of_day_[at];
    if (end_at_work <= worked_before_[last + 1]) {
      const auto found = std::lower_bound(worked_before_.begin() + static_cast<long>(at) + 1,
                                          worked_before_.end(), end_at_work);
      const auto in = static_cast<std::size_t>(found - worked_before_.begin()) - 1;
      return {start, hours_[in].from + end_at_work - worked_before_[in]};
    }
    // No later start in the same go can fit either: less of it would be left. A go that may span
    // a break gets one more try after the break only on another day, for the same reason.
    at = last + 1;
  }
  return {};
}

std::vector<Window> PersonHours::segments(const Stay& stay) const {
  std::vector<Window> cut;
  for (std::size_t at = window_after(stay.start); at < hours_.size(); ++at) {
    if (hours_[at].from >= stay.end) break;
    cut.push_back({std::max(hours_[at].from, stay.start), std::min(hours_[at].to, stay.end)});
  }
  return cut;
}

}  // namespace rollwright::plan
