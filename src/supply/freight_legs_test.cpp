#include "supply/freight_legs.hpp"

#include <cmath>
#include <fstream>
#include <sstream>

#include <gtest/gtest.h>

#include "base/random.hpp"
#include "base/working_days.hpp"

namespace rollwright::supply {
namespace {

std::vector<FreightLeg> legs() {
  std::ifstream file(ROLLWRIGHT_ROOT "/data/trade/freight_legs.csv");
  std::stringstream text;
  text << file.rdbuf();
  return read_freight_legs(text.str(), "freight_legs.csv").value();
}

TEST(FreightLegs, TakeTheirLowAndHighAsOneInTen) {
  for (const FreightLeg& leg : legs()) {
    const DayOdds odds = calendar_days(legs(), {leg.name}).value();
    EXPECT_NEAR(within(odds, static_cast<int>(leg.low)), 0.1, 1e-6) << leg.name;
    EXPECT_NEAR(within(odds, static_cast<int>(leg.high)), 0.9, 1e-6) << leg.name;
  }
}

// Second opinion: drawn consignments.
TEST(FreightLegs, AddUpAsDrawnConsignmentsDo) {
  const std::vector<FreightLeg> all = {{"sea", 35, 60, "invented"}, {"road", 2, 7, "invented"}};
  const DayOdds odds = calendar_days(all, {"sea", "road"}).value();
  Random random(17);
  constexpr int kDraws = 60000;
  int within_50 = 0;
  int within_60 = 0;
  for (int i = 0; i < kDraws; ++i) {
    double days = 0;
    for (const FreightLeg& leg : all) {
      const double sigma = std::log(leg.high / leg.low) / (2 * 1.2815515655446004);
      days += std::ceil(random.lognormal(std::log(std::sqrt(leg.low * leg.high)), sigma));
    }
    within_50 += days <= 50 ? 1 : 0;
    within_60 += days <= 60 ? 1 : 0;
  }
  EXPECT_NEAR(within(odds, 50), static_cast<double>(within_50) / kDraws, 0.008);
  EXPECT_NEAR(within(odds, 60), static_cast<double>(within_60) / kDraws, 0.008);
}

TEST(FreightLegs, AreInHandOnTheNextWorkingDay) {
  const Day wednesday = parse_day("2026-11-25").value();
  DayOdds calendar{.by = std::vector<double>(11, 0)};
  for (std::size_t k = 3; k <= 10; ++k) calendar.by[k] = k == 3 ? 0.4 : k < 10 ? 0.7 : 1.0;
  const DayOdds odds = in_working_days(calendar, wednesday, {});
  EXPECT_EQ(within(odds, 2), 0) << "Friday";
  EXPECT_EQ(within(odds, 3), 0.7) << "what came on Saturday is in hand on Monday";
  EXPECT_EQ(within(odds, 8), 1);
  const DayOdds closed = in_working_days(calendar, wednesday, {wednesday + std::chrono::days(5)});
  EXPECT_EQ(within(closed, 3), 0.7) << "the third working day is Tuesday now";
}

TEST(FreightLegs, RefuseWhatIsNoLeg) {
  EXPECT_EQ(calendar_days(legs(), {"by mule"}).error().code, Code::kNotFound);
  const auto field = [](const char* row) {
    const auto read = read_freight_legs(std::string("leg,low,high,source\n") + row, "x.csv");
    return read ? std::string() : read.error().place.field;
  };
  EXPECT_EQ(field("air,5,12,invented"), "");
  EXPECT_EQ(field(",5,12,invented"), "leg");
  EXPECT_EQ(field("air,0,12,invented"), "low");
  EXPECT_EQ(field("air,5,5,invented"), "high");
  EXPECT_EQ(field("air,5,12,"), "source");
  EXPECT_EQ(field("air,5,12,invented\nair,5,12,invented"), "leg");
}

}  // namespace
}  // namespace rollwright::supply
