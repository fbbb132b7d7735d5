#include "supply/cut_off.hpp"

#include <gtest/gtest.h>

// Invented suppliers; 25 November 2026 is a Wednesday.
namespace rollwright::supply {
namespace {

Day day(const char* text) { return parse_day(text).value(); }
const Day kWednesday = parse_day("2026-11-25").value();

trade::Supplier supplier(int cut_off, int ship_days = 0x1f) {
  return {.id = trade::SupplierId("x"), .name = "X", .cut_off_minute = cut_off,
          .ship_days = ship_days};
}

TEST(CutOff, CountsTheMinutesThatAreLeft) {
  const CutOff open = cut_off_of(supplier(14 * 60), kWednesday, 12 * 60 + 35, {});
  EXPECT_TRUE(open.today);
  EXPECT_EQ(open.minutes_left, 85);
  EXPECT_EQ(open.dispatch, kWednesday);
  EXPECT_EQ(open.words, "order within 1 h 25 min to make today's dispatch");
}

TEST(CutOff, IsOverOnTheMinuteItself) {
  const trade::Supplier until_two = supplier(14 * 60);
  const CutOff last = cut_off_of(until_two, kWednesday, 14 * 60 - 1, {});
  EXPECT_EQ(last.words, "order within 1 min to make today's dispatch");
  const CutOff over = cut_off_of(until_two, kWednesday, 14 * 60, {});
  EXPECT_FALSE(over.today);
  EXPECT_EQ(over.dispatch, day("2026-11-26"));
  EXPECT_EQ(over.words, "today's cut-off was 14:00; the next dispatch is Thursday 26 November, for "
                        "orders before 14:00");
  EXPECT_EQ(cut_off_of(until_two, kWednesday, 13 * 60, {}).words,
            "order within 1 h to make today's dispatch");
}

TEST(CutOff, GoesOverWeekendsHolidaysAndDaysWithoutDispatch) {
  const trade::Supplier five_days = supplier(11 * 60 + 5);
  EXPECT_EQ(cut_off_of(five_days, day("2026-11-27"), 12 * 60, {}).dispatch, day("2026-11-30"))
      << "Friday after the cut-off";
  const CutOff sunday = cut_off_of(five_days, day("2026-11-29"), 9 * 60, {});
  EXPECT_FALSE(sunday.today);
  EXPECT_EQ(sunday.words, "no dispatch today; the next dispatch is Monday 30 November, for orders "
                          "before 11:05");
  const std::vector<Day> christmas = {day("2026-12-24"), day("2026-12-25"), day("2026-12-26")};
  EXPECT_EQ(cut_off_of(five_days, day("2026-12-24"), 9 * 60, christmas).dispatch,
            day("2026-12-28"))
      << "24 to 26 December are closed, 27 is a Sunday";
  const trade::Supplier tuesdays_thursdays = supplier(11 * 60, 0b01010);
  EXPECT_EQ(cut_off_of(tuesdays_thursdays, kWednesday, 9 * 60, {}).dispatch, day("2026-11-26"));
  EXPECT_EQ(cut_off_of(tuesdays_thursdays, day("2026-11-26"), 11 * 60, {}).dispatch,
            day("2026-12-01"));
}

TEST(CutOff, ASupplierWithNoShipDayShipsOnWorkingDays) {
  EXPECT_TRUE(cut_off_of(supplier(14 * 60, 0), kWednesday, 60, {}).today);
}

}  // namespace
}  // namespace rollwright::supply
