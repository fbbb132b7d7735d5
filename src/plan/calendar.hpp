#pragma once

#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "base/clock.hpp"
#include "base/result.hpp"
#include "plan/workshop.hpp"

/// Weekly hours, breaks and days off, laid out over a horizon as windows of work.
namespace rollwright::plan {

/// First day and number of days; minute 0 is 00:00 of the first day.
struct Horizon {
  Day first;
  int days = 0;
};

/// An ordinary week of one person. Each day holds its windows in minutes of that day, ascending,
/// breaks left out: {{540, 750}, {780, 1080}} is 9:00 to 18:00 with half an hour at 12:30. An empty
/// day is a day off; part-time is a week with fewer or shorter days.
struct WeeklyHours {
  std::array<std::vector<Window>, 7> monday_first;
};

/// Not at work: a holiday of the shop or the absence of a person. Whole days from `first` to
/// `last` included, or only the part of each of those days given by `part`.
struct Absence {
  Day first;
  Day last;
  Window part = {0, kMinutesPerDay};
};

/// Windows of work over the horizon, ascending, never across midnight.
/// Errors: kOutOfRange for windows that leave the day, overlap or run backwards, for an absence
///         that ends before it begins, and for a horizon outside 1 to 1000 days.
[[nodiscard]] Result<std::vector<Window>> working_windows(const WeeklyHours& week,
                                                          const std::vector<Absence>& absences,
                                                          const Horizon& horizon);

/// The same hours on the named days of the week, breaks taken out.
/// `days` as in "Tue-Sat" or "Mon,Wed,Thu"; `hours` as in "9:00-12:30,13:00-18:00".
/// Errors: kBadInput with a sentence that shows the right form.
[[nodiscard]] Result<WeeklyHours> parse_week(std::string_view days, std::string_view hours);

/// Days on which a carrier comes: Monday to Friday without the given days, counted from the first.
[[nodiscard]] std::vector<int> carrier_days(const Horizon& horizon,
                                            const std::vector<Day>& closed);

/// The same windows with each day of work from day `first` to `last` (counted from the first of the
/// horizon) ending so much later, but no day with more than `most` minutes of work. Days off stay
/// off; a window never runs past midnight.
struct LongerDays {
  int first = 0;
  int last = 0;
  int minutes = 0;  // later, at most
  int most = 600;   // at work on one day
};
[[nodiscard]] std::vector<Window> with_longer_days(const std::vector<Window>& windows,
                                                   const LongerDays& longer);

[[nodiscard]] Day day_at(Day first, int minute);
/// 00:00 of `day`; negative before the first day.
[[nodiscard]] int minute_at(Day first, Day day);
/// "9:05", "17:30"
[[nodiscard]] std::string clock_words(int minute);

}  // namespace rollwright::plan
