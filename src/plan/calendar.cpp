#include "plan/calendar.hpp"

#include <algorithm>
#include <charconv>

#include <fmt/format.h>

namespace rollwright::plan {
namespace {

constexpr std::array<std::string_view, 7> kDays = {"Mon", "Tue", "Wed", "Thu",
                                                   "Fri", "Sat", "Sun"};

int weekday_from_monday(Day day) {
  return static_cast<int>(std::chrono::weekday(day).iso_encoding()) - 1;
}

std::unexpected<Error> wrong_days(std::string_view text) {
  return refuse(Code::kBadInput, "days of the week are written as in Tue-Sat or Mon,Wed,Thu",
                {.field = "days", .value = std::string(text)});
}

std::unexpected<Error> wrong_hours(std::string_view text) {
  return refuse(Code::kBadInput,
                "hours are written as in 9:00-12:30,13:00-18:00, in order, within one day",
                {.field = "hours", .value = std::string(text)});
}

std::vector<std::string_view> parts_of(std::string_view text, char mark) {
  std::vector<std::string_view> parts;
  for (std::size_t at = 0; at <= text.size();) {
    const std::size_t end = std::min(text.find(mark, at), text.size());
    std::string_view part = text.substr(at, end - at);
    while (!part.empty() && part.front() == ' ') part.remove_prefix(1);
    while (!part.empty() && part.back() == ' ') part.remove_suffix(1);
    parts.push_back(part);
    at = end + 1;
  }
  return parts;
}

int day_index(std::string_view word) {
  const auto found = std::ranges::find(kDays, word);
  return found == kDays.end() ? -1 : static_cast<int>(found - kDays.begin());
}

/// Minute of the day, or -1.
int clock_minute(std::string_view word) {
  const std::size_t colon = word.find(':');
  if (colon == std::string_view::npos || colon == 0 || colon > 2 || word.size() != colon + 3) {
    return -1;
  }
  int hour = 0;
  int minute = 0;
  const char* middle = word.data() + colon;
  const auto [hour_end, bad_hour] = std::from_chars(word.data(), middle, hour);
  const auto [end, bad] = std::from_chars(middle + 1, word.data() + word.size(), minute);
  if (bad_hour != std::errc{} || bad != std::errc{} || hour_end != middle ||
      end != word.data() + word.size() || hour < 0 || minute < 0 || minute > 59) {
    return -1;
  }
  const int at = hour * 60 + minute;
  return at <= kMinutesPerDay ? at : -1;
}

bool is_within_a_day(const std::vector<Window>& windows) {
  int before = 0;
  for (const Window& window : windows) {
    if (!(before <= window.from && window.from < window.to && window.to <= kMinutesPerDay)) {
      return false;
    }
    before = window.to;
  }
  return true;
}

/// What is left of `windows` when `out` is taken away.
std::vector<Window> without(const std::vector<Window>& windows, const Window& out) {
  std::vector<Window> left;
  for (const Window& window : windows) {
    if (window.from < out.from) left.push_back({window.from, std::min(window.to, out.from)});
    if (out.to < window.to) left.push_back({std::max(window.from, out.to), window.to});
  }
  return left;
}

Result<std::vector<Window>> parse_hours(std::string_view hours) {
  std::vector<Window> windows;
  for (const std::string_view part : parts_of(hours, ',')) {
    const auto ends = parts_of(part, '-');
    if (ends.size() != 2) return wrong_hours(hours);
    windows.push_back({clock_minute(ends[0]), clock_minute(ends[1])});
  }
  if (!is_within_a_day(windows)) return wrong_hours(hours);
  return windows;
}

}  // namespace

Result<std::vector<Window>> working_windows(const WeeklyHours& week,
                                            const std::vector<Absence>& absences,
                                            const Horizon& horizon) {
  if (!(1 <= horizon.days && horizon.days <= 1000)) {
    return refuse(Code::kOutOfRange, "a horizon is 1 to 1000 days",
                  {.field = "days", .value = fmt::to_string(horizon.days)});
  }
  for (std::size_t day = 0; day < 7; ++day) {
    if (is_within_a_day(week.monday_first[day])) continue;
    return refuse(Code::kOutOfRange,
                  fmt::format("the hours of {} must follow one another within one day", kDays[day]),
                  {.field = std::string(kDays[day])});
  }
  for (const Absence& absence : absences) {
    if (absence.first <= absence.last && is_within_a_day({absence.part})) continue;
    return refuse(Code::kOutOfRange,
                  fmt::format("the absence from {} to {} must not end before it begins",
                              iso(absence.first), iso(absence.last)),
                  {.field = "absence"});
  }
  std::vector<Window> all;
  for (int index = 0; index < horizon.days; ++index) {
    const Day day = horizon.first + std::chrono::days(index);
    std::vector<Window> today =
        week.monday_first[static_cast<std::size_t>(weekday_from_monday(day))];
    for (const Absence& absence : absences) {
      if (absence.first <= day && day <= absence.last) today = without(today, absence.part);
    }
    for (const Window& window : today) {
      const Window placed{index * kMinutesPerDay + window.from, index * kMinutesPerDay + window.to};
      // Touching windows are one: there is no break between them.
      if (!all.empty() && all.back().to == placed.from && placed.from % kMinutesPerDay != 0) {
        all.back().to = placed.to;
      } else {
        all.push_back(placed);
      }
    }
  }
  return all;
}

Result<WeeklyHours> parse_week(std::string_view days, std::string_view hours) {
  const auto windows = parse_hours(hours);
  if (!windows) return std::unexpected(windows.error());
  WeeklyHours week;
  for (const std::string_view part : parts_of(days, ',')) {
    const auto ends = parts_of(part, '-');
    const int first = day_index(ends.front());
    const int last = day_index(ends.back());
    if (ends.size() > 2 || first < 0 || last < first) return wrong_days(days);
    for (int day = first; day <= last; ++day) {
      week.monday_first[static_cast<std::size_t>(day)] = *windows;
    }
  }
  return week;
}

std::vector<int> carrier_days(const Horizon& horizon, const std::vector<Day>& closed) {
  std::vector<int> days;
  for (int index = 0; index < horizon.days; ++index) {
    const Day day = horizon.first + std::chrono::days(index);
    const bool is_closed = std::ranges::find(closed, day) != closed.end();
    if (weekday_from_monday(day) < 5 && !is_closed) days.push_back(index);
  }
  return days;
}

std::vector<Window> with_longer_days(const std::vector<Window>& windows,
                                     const LongerDays& longer) {
  std::vector<Window> out = windows;
  int at_work = 0;  // on the day, up to and with the window looked at
  for (std::size_t i = 0; i < out.size(); ++i) {
    const int day = out[i].from / kMinutesPerDay;
    at_work += out[i].to - out[i].from;
    const bool last_of_day = i + 1 == out.size() || out[i + 1].from / kMinutesPerDay != day;
    if (!last_of_day) continue;
    if (day >= longer.first && day <= longer.last) {
      const int room = std::min({longer.minutes, longer.most - at_work,
                                 (day + 1) * kMinutesPerDay - out[i].to});
      out[i].to += std::max(0, room);
    }
    at_work = 0;
  }
  return out;
}

Day day_at(Day first, int minute) {
  return first + std::chrono::floor<std::chrono::days>(std::chrono::minutes(minute));
}

int minute_at(Day first, Day day) {
  return static_cast<int>((day - first).count()) * kMinutesPerDay;
}

std::string clock_words(int minute) {
  const int of_day = ((minute % kMinutesPerDay) + kMinutesPerDay) % kMinutesPerDay;
  return fmt::format("{}:{:02}", of_day / 60, of_day % 60);
}

}  // namespace rollwright::plan
