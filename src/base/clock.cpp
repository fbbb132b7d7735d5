#include "base/clock.hpp"

#include <array>
#include <charconv>

#include <fmt/format.h>

namespace rollwright {
namespace {

constexpr std::array<std::string_view, 12> kMonths = {
    "January", "February", "March",     "April",   "May",      "June",
    "July",    "August",   "September", "October", "November", "December"};
constexpr std::array<std::string_view, 7> kWeekdays = {
    "Sunday", "Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday"};

bool read_number(std::string_view text, int& out) {
  if (text.empty() || text.front() == '-' || text.front() == '+') return false;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), out);
  return error == std::errc{} && end == text.data() + text.size();
}

std::unexpected<Error> not_a_day(std::string_view text) {
  return refuse(Code::kBadInput, "a day is written year-month-day, as in 2026-11-25",
                {.value = std::string(text)});
}

}  // namespace

Instant SystemClock::now() const {
  return std::chrono::floor<std::chrono::seconds>(std::chrono::system_clock::now());
}

Day day_of(Instant instant) { return std::chrono::floor<std::chrono::days>(instant); }

Result<Day> parse_day(std::string_view text) {
  int year = 0;
  int month = 0;
  int day = 0;
  if (text.size() != 10 || text[4] != '-' || text[7] != '-' ||
      !read_number(text.substr(0, 4), year) || !read_number(text.substr(5, 2), month) ||
      !read_number(text.substr(8, 2), day)) {
    return not_a_day(text);
  }
  const std::chrono::year_month_day date{std::chrono::year(year),
                                         std::chrono::month(static_cast<unsigned>(month)),
                                         std::chrono::day(static_cast<unsigned>(day))};
  if (!date.ok()) return not_a_day(text);
  return Day{date};
}

std::string iso(Day day) {
  const std::chrono::year_month_day date{day};
  return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(date.year()),
                     static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()));
}

Result<Instant> parse_instant(std::string_view text) {
  int hour = 0;
  int minute = 0;
  int second = 0;
  const auto wrong = [text] {
    return refuse(Code::kBadInput, "a moment is written in UTC as in 2026-11-25T08:30:00Z",
                  {.value = std::string(text)});
  };
  if (text.size() != 20 || text[10] != 'T' || text[13] != ':' || text[16] != ':' ||
      text[19] != 'Z' || !read_number(text.substr(11, 2), hour) ||
      !read_number(text.substr(14, 2), minute) || !read_number(text.substr(17, 2), second) ||
      hour > 23 || minute > 59 || second > 59) {
    return wrong();
  }
  const Result<Day> day = parse_day(text.substr(0, 10));
  if (!day) return wrong();
  return Instant{*day} + std::chrono::hours(hour) + std::chrono::minutes(minute) +
         std::chrono::seconds(second);
}

std::string iso(Instant instant) {
  const Day day = day_of(instant);
  const std::chrono::hh_mm_ss time{instant - day};
  return fmt::format("{}T{:02}:{:02}:{:02}Z", iso(day), time.hours().count(),
                     time.minutes().count(), time.seconds().count());
}

std::string in_words(Day day, bool with_year) {
  const std::chrono::year_month_day date{day};
  const std::chrono::weekday weekday{day};
  std::string text =
      fmt::format("{} {} {}", kWeekdays[weekday.c_encoding()], static_cast<unsigned>(date.day()),
                  kMonths[static_cast<unsigned>(date.month()) - 1]);
  if (with_year) text += fmt::format(" {}", static_cast<int>(date.year()));
  return text;
}

std::string in_short(Day day) {
  const std::chrono::year_month_day date{day};
  return fmt::format("{} {}", static_cast<unsigned>(date.day()),
                     kMonths[static_cast<unsigned>(date.month()) - 1].substr(0, 3));
}

}  // namespace rollwright
