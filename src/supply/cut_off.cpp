#include "supply/cut_off.hpp"

#include <algorithm>

#include <fmt/format.h>

namespace rollwright::supply {
namespace {

constexpr int kEveryWorkingDay = 0x1f;
constexpr int kMostDaysAhead = 60;

bool ships_on(int ship_days, Day day, const std::vector<Day>& closed) {
  const unsigned monday_first = std::chrono::weekday(day).iso_encoding() - 1;
  const bool is_ship_day = ((static_cast<unsigned>(ship_days) >> monday_first) & 1U) != 0;
  return is_ship_day && std::ranges::find(closed, day) == closed.end();
}

}  // namespace

std::string minutes_in_words(int minutes) {
  if (minutes < 60) return fmt::format("{} min", minutes);
  if (minutes % 60 == 0) return fmt::format("{} h", minutes / 60);
  return fmt::format("{} h {} min", minutes / 60, minutes % 60);
}

CutOff cut_off_of(const trade::Supplier& supplier, Day today, int minute,
                  const std::vector<Day>& closed) {
  const int days = supplier.ship_days == 0 ? kEveryWorkingDay : supplier.ship_days;
  const int cut_off = supplier.cut_off_minute;
  const bool ships_today = ships_on(days, today, closed);
  if (ships_today && minute < cut_off) {
    return {.today = true, .minutes_left = cut_off - minute, .dispatch = today,
            .words = fmt::format("order within {} to make today's dispatch",
                                 minutes_in_words(cut_off - minute))};
  }
  Day next = today + std::chrono::days(1);
  for (int ahead = 1; ahead < kMostDaysAhead && !ships_on(days, next, closed); ++ahead) {
    next += std::chrono::days(1);
  }
  const std::string time = fmt::format("{}:{:02}", cut_off / 60, cut_off % 60);
  const std::string past = ships_today ? fmt::format("today's cut-off was {}", time)
                                       : std::string("no dispatch today");
  return {.today = false, .minutes_left = 0, .dispatch = next,
          .words = fmt::format("{}; the next dispatch is {}, for orders before {}", past,
                               rollwright::in_words(next), time)};
}

}  // namespace rollwright::supply
