#include "plan/person_hours.hpp"

#include <algorithm>
#include <cmath>

namespace rollwright::plan {
namespace {

constexpr int kBlock = 256;  // minutes at work; half a day, so that a block meets few windows

}  // namespace

int Taken::clash(const Window& span) const {
  const auto found = std::ranges::upper_bound(spans_, span.from, {}, &Window::to);
  return found != spans_.end() && found->from < span.to ? found->to : -1;
}

int Taken::first_gap(int from, int length) const {
  auto next = std::ranges::upper_bound(spans_, from, {}, &Window::to);
  for (; next != spans_.end() && next->from - from < length; ++next) from = next->to;
  return from;
}

void Taken::take(const Window& span) {
  const auto next = std::ranges::upper_bound(spans_, span.from, {}, &Window::from);
  const bool joins_next = next != spans_.end() && next->from == span.to;
  const bool joins_last = next != spans_.begin() && std::prev(next)->to == span.from;
  if (joins_last && joins_next) {
    std::prev(next)->to = next->to;
    spans_.erase(next);
  } else if (joins_last) {
    std::prev(next)->to = span.to;
  } else if (joins_next) {
    next->from = span.from;
  } else {
    spans_.insert(next, span);
  }
}

void Taken::give_back(const Window& span) {
  const auto around =
      std::prev(std::ranges::upper_bound(spans_, span.from, {}, &Window::from));
  const Window whole = *around;
  if (whole == span) {
    spans_.erase(around);
  } else if (whole.from == span.from) {
    around->from = span.to;
  } else if (whole.to == span.to) {
    around->to = span.from;
  } else {
    around->to = span.from;
    spans_.insert(std::next(around), {span.to, whole.to});
  }
}

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
  for (std::size_t at = 0; at < hours.size(); ++at) {
    first_from_day_.resize(static_cast<std::size_t>(hours[at].from / kMinutesPerDay) + 1, at);
    first_of_block_.resize(static_cast<std::size_t>((worked_before_[at + 1] - 1) / kBlock) + 1, at);
  }
}

int PersonHours::minutes_at_work(double hands_on) const {
  // The small allowance keeps 30 / 0.6 from becoming 51 by rounding in the last binary place.
  return std::max(1, static_cast<int>(std::ceil(hands_on / share_ - 1e-9)));
}

std::size_t PersonHours::window_after(int minute) const {
  const auto day = static_cast<std::size_t>(minute / kMinutesPerDay);
  if (day >= first_from_day_.size()) return hours_.size();
  std::size_t at = first_from_day_[day];
  while (at < hours_.size() && hours_[at].to <= minute) ++at;
  return at;
}

std::size_t PersonHours::window_of(int minute_at_work) const {
  std::size_t at = first_of_block_[static_cast<std::size_t>(minute_at_work / kBlock)];
  while (worked_before_[at + 1] <= minute_at_work) ++at;
  return at;
}

int PersonHours::at_work_before(int minute) const {
  const std::size_t at = window_after(minute);
  return worked_before_[at] + (at < hours_.size() ? std::max(0, minute - hours_[at].from) : 0);
}

std::size_t PersonHours::last_without(std::size_t window, Pause pause) const {
  if (pause == Pause::kNever) return window;
  return pause == Pause::kWithinDay ? last_of_day_[window] : hours_.size() - 1;
}

PersonHours::Stay PersonHours::earliest(int from, int minutes, Pause pause) const {
  return earliest(from, minutes, pause, {});
}

PersonHours::Stay PersonHours::earliest(int from, int minutes, Pause pause,
                                        const Taken& taken) const {
  int begin = at_work_before(from);
  while (true) {
    begin = taken.first_gap(begin, minutes);
    const int end = begin + minutes;
    if (end > worked_before_.back()) return {};
    const std::size_t at = window_of(begin);
    const int room_to = worked_before_[last_without(at, pause) + 1];
    if (end <= room_to) {
      const std::size_t last = window_of(end - 1);
      return {hours_[at].from + begin - worked_before_[at],
              hours_[last].from + end - worked_before_[last]};
    }
    begin = room_to;  // no later start in the same go can fit either: less of it would be left
  }
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
