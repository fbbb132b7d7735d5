#include "plan/calendar.hpp"

#include <gtest/gtest.h>

namespace rollwright::plan {
namespace {

// 4 January 2027 is a Monday (checked with the calendar of the standard library below).
const Day kMonday = *parse_day("2027-01-04");

TEST(Calendar, TheTestMondayIsAMonday) {
  EXPECT_EQ(std::chrono::weekday(kMonday), std::chrono::Monday);
}

TEST(Calendar, LeavesBreaksAndDaysOffOutOfTheWindows) {
  const auto week = parse_week("Mon,Wed", "9:00-12:30,13:00-18:00");
  ASSERT_TRUE(week);
  const auto windows = working_windows(*week, {}, {kMonday, 7});
  ASSERT_TRUE(windows);
  // By hand: Monday 540-750, 780-1080; Wednesday two days of 1440 later.
  const std::vector<Window> expected = {{540, 750}, {780, 1080}, {3420, 3630}, {3660, 3960}};
  EXPECT_EQ(*windows, expected);
}

TEST(Calendar, TakesAbsencesOutWholeOrInPart) {
  const auto week = parse_week("Mon-Fri", "9:00-17:00");
  const std::vector<Absence> absences = {
      {kMonday + std::chrono::days(1), kMonday + std::chrono::days(3)},
      {kMonday, kMonday, {600, 660}},  // dentist from ten to eleven
  };
  const auto windows = working_windows(*week, absences, {kMonday, 5});
  ASSERT_TRUE(windows);
  const std::vector<Window> expected = {{540, 600}, {660, 1020}, {4 * 1440 + 540, 4 * 1440 + 1020}};
  EXPECT_EQ(*windows, expected);
}

TEST(Calendar, JoinsWindowsThatTouch) {
  WeeklyHours week;
  week.monday_first[0] = {{540, 600}, {600, 660}};
  const auto windows = working_windows(week, {}, {kMonday, 1});
  ASSERT_TRUE(windows);
  EXPECT_EQ(*windows, (std::vector<Window>{{540, 660}}));
}

TEST(Calendar, RefusesHoursThatRunBackwards) {
  for (const char* hours : {"18:00-9:00", "9:00-12:00,11:00-13:00", "9-17", "9:00", "9:00-24:30",
                            "9:60-10:00", "", "9:00-10:00-11:00"}) {
    EXPECT_FALSE(parse_week("Mon", hours)) << hours;
  }
  for (const char* days : {"Fri-Mon", "Monday", "", "Mon-Tue-Wed", "Mon;Tue"}) {
    EXPECT_FALSE(parse_week(days, "9:00-17:00")) << days;
  }
}

TEST(Calendar, RefusesAnAbsenceThatEndsBeforeItBegins) {
  const auto week = parse_week("Mon", "9:00-17:00");
  const auto windows =
      working_windows(*week, {{kMonday, kMonday - std::chrono::days(1)}}, {kMonday, 7});
  ASSERT_FALSE(windows);
  EXPECT_EQ(windows.error().code, Code::kOutOfRange);
}

TEST(Calendar, CarriersComeMondayToFridayButNotOnHolidays) {
  EXPECT_EQ(carrier_days({kMonday, 10}, {kMonday + std::chrono::days(2)}),
            (std::vector<int>{0, 1, 3, 4, 7, 8, 9}));
}

TEST(Calendar, FindsDayAndClockOfAMinute) {
  EXPECT_EQ(day_at(kMonday, 1439), kMonday);
  EXPECT_EQ(day_at(kMonday, 1440), kMonday + std::chrono::days(1));
  EXPECT_EQ(day_at(kMonday, -1), kMonday - std::chrono::days(1));
  EXPECT_EQ(minute_at(kMonday, kMonday + std::chrono::days(3)), 4320);
  EXPECT_EQ(clock_words(1440 + 545), "9:05");
}

TEST(Calendar, LongerDaysEndLaterWithinTheMostThatADayMayHave) {
  const int day = kMinutesPerDay;
  // Day 0: 9 to 12 and 13 to 18 (8 h); day 2: 9 to 13; day 3: 8 to 18 (10 h already).
  const std::vector<Window> week = {{540, 720},
                                    {780, 1080},
                                    {2 * day + 540, 2 * day + 780},
                                    {3 * day + 480, 3 * day + 1080}};
  const auto longer = with_longer_days(week, {.first = 0, .last = 3, .minutes = 180, .most = 600});
  ASSERT_EQ(longer.size(), 4u);
  EXPECT_EQ(longer[0].to, 720);                   // the break stays a break
  EXPECT_EQ(longer[1].to, 1080 + 120);            // two hours are left of ten
  EXPECT_EQ(longer[2].to, 2 * day + 780 + 180);
  EXPECT_EQ(longer[3].to, 3 * day + 1080);        // ten hours: not a minute more
  EXPECT_EQ(with_longer_days(week, {.first = 1, .last = 1, .minutes = 60}), week);
  const auto night = with_longer_days({{1380, 1430}}, {.first = 0, .last = 0, .minutes = 60});
  EXPECT_EQ(night[0].to, day);                    // midnight
}

}  // namespace
}  // namespace rollwright::plan
