#include "mech/tyre.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "base/random.hpp"
#include "mech/trials/checked.hpp"

namespace rollwright::mech {
namespace {

using trials::expect_row;
using trials::Tag;

struct TyreRow {
  const char* size;
  double diameter_mm, circumference_mm;
};

// Rows 5.1 to 5.11. Diameters of the first three: encyclopaedia article "ISO 5775"; the rest
// derived from bead seat + 2 width.
constexpr TyreRow kRows[] = {
    {"37-590", 664, 2086.0}, {"40-635", 715, 2246.2}, {"23-622", 668, 2098.6},
    {"28-622", 678, 2130.0}, {"32-622", 686, 2155.1}, {"47-622", 716, 2249.4},
    {"57-622", 736, 2312.2}, {"50-559", 659, 2070.3}, {"47-406", 500, 1570.8},
    {"35-349", 419, 1316.3}, {"57-584", 698, 2192.8},
};

TEST(Tyre, AgreesWithTheCheckValues) {
  int number = 0;
  for (const TyreRow& row : kRows) {
    SCOPED_TRACE(row.size);
    const auto size = parse_tyre_size(row.size);
    ASSERT_TRUE(size);
    EXPECT_EQ(designation(*size), row.size);
    number += 1;
    const std::string name = "5." + std::to_string(number);
    expect_row({.row = name + " diameter",
                .of = std::string("diameter over a tyre ") + row.size,
                .unit = "mm",
                .expected = row.diameter_mm,
                .tolerance = 0.5,
                .ours = tyre_diameter(*size).in(mm),
                .tag = number <= 3 ? Tag::kFoundDerived : Tag::kDerived,
                .source = "tyre-designation"});
    expect_row({.row = name + " way",
                .of = std::string("way of one turn of a tyre ") + row.size,
                .unit = "mm",
                .expected = row.circumference_mm,
                .tolerance = 0.06,
                .ours = tyre_circumference(*size).in(mm),
                .source = "tyre-designation"});
  }
}

TEST(Tyre, LiesWithinOnePercentOfSpeedometerTables) {
  // 23-622 "2096" and 50-559 "2055" mm: from memory of such tables.
  EXPECT_NEAR(tyre_circumference(*parse_tyre_size("23-622")).in(mm), 2096, 21);
  EXPECT_NEAR(tyre_circumference(*parse_tyre_size("50-559")).in(mm), 2055, 21);
}

TEST(Tyre, CircumferenceGrowsWithWidthAndSeat) {
  Random random(5);
  for (int i = 0; i < 500; ++i) {
    const TyreSize size{(18 + 80 * random.uniform()) * mm, (200 + 450 * random.uniform()) * mm};
    const TyreSize wider{size.width + (0.1 + random.uniform()) * mm, size.bead_seat};
    const TyreSize larger{size.width, size.bead_seat + (0.1 + random.uniform()) * mm};
    EXPECT_GT(tyre_circumference(wider), tyre_circumference(size)) << "seed 5, case " << i;
    EXPECT_GT(tyre_circumference(larger), tyre_circumference(size)) << "seed 5, case " << i;
  }
}

TEST(TyreSize, RefusesNamesThatDoNotSayWhichRim) {
  for (const char* text : {"28x1.75", "700x47C", "26\"", "47", "", "47-", "-622", "47-622-1",
                           "nan-622", "47-inf", "4a-622"}) {
    const auto size = parse_tyre_size(text);
    ASSERT_FALSE(size) << text;
    EXPECT_EQ(size.error().code, Code::kBadInput) << text;
    EXPECT_NE(size.error().sentence.find("47-622"), std::string::npos);
  }
  EXPECT_NE(parse_tyre_size("28x1.75").error().sentence.find("inches"), std::string::npos);
  EXPECT_EQ(parse_tyre_size("622-47").error().code, Code::kOutOfRange);
  EXPECT_TRUE(parse_tyre_size(" 47 - 622 "));
}

// Rows of the usual table, from memory; editions disagree ([tyre-rim-width]).
const std::vector<RimWidthRow> kTable = {{17 * mm, 25 * mm, 50 * mm},
                                         {19 * mm, 28 * mm, 62 * mm},
                                         {21 * mm, 32 * mm, 64 * mm},
                                         {25 * mm, 40 * mm, 71 * mm}};

TEST(TyreOnRim, FollowsTheTableAndItsGaps) {
  EXPECT_TRUE(tyre_on_rim(47 * mm, 19 * mm, kTable)->holds);
  EXPECT_FALSE(tyre_on_rim(25 * mm, 19 * mm, kTable)->holds);
  EXPECT_NEAR(tyre_on_rim(47 * mm, 20 * mm, kTable)->least_tyre.in(mm), 30, 1e-9);
  EXPECT_NEAR(tyre_on_rim(47 * mm, 23 * mm, kTable)->most_tyre.in(mm), 67.5, 1e-9);
  EXPECT_EQ(tyre_on_rim(47 * mm, 30 * mm, kTable).error().code, Code::kOutOfRange);
  EXPECT_EQ(tyre_on_rim(47 * mm, 19 * mm, {}).error().code, Code::kBadInput);
  EXPECT_EQ(tyre_on_rim(47 * mm, 19 * mm, {kTable[1], kTable[0]}).error().code, Code::kBadInput);
}

TEST(TyreClearance, IsHalfOfWhatIsLeft) {
  // Floors: 1.6 mm, 16 CFR 1512.11; makers' handbooks 4 mm and 6 mm (read as quoted).
  const auto room = tyre_clearance({60 * mm, 47 * mm, 6 * mm});
  EXPECT_NEAR(room->each_side.in(mm), 6.5, 1e-12);
  EXPECT_NEAR(room->widest.in(mm), 48, 1e-12);
  EXPECT_TRUE(room->holds);
  EXPECT_FALSE(tyre_clearance({60 * mm, 49 * mm, 6 * mm})->holds);
  EXPECT_LT(tyre_clearance({45 * mm, 49 * mm, 6 * mm})->each_side.in(mm), 0);
}

TEST(PressureRange, TakesTheLowestMarkAndSaysWhose) {
  const PressureMarks marks{.tyre_least = 3 * bar, .tyre_most = 6 * bar, .rim_most = 5.5 * bar};
  EXPECT_EQ(pressure_range(marks)->most, 5.5 * bar);
  EXPECT_EQ(pressure_range(marks)->most_set_by, "rim");
  PressureMarks hookless = marks;
  hookless.hookless_rim = true;
  EXPECT_EQ(pressure_range(hookless).error().code, Code::kContradiction);
  hookless.tyre_for_hookless = true;
  EXPECT_EQ(pressure_range(hookless)->most, 5 * bar);
  EXPECT_EQ(pressure_range(hookless)->most_set_by, "hookless rim");
  hookless.tyre_least = 5.2 * bar;
  EXPECT_EQ(pressure_range(hookless).error().code, Code::kContradiction);
  EXPECT_EQ(pressure_range({}).error().code, Code::kBadInput);
  expect_row({.row = "5.12",
              .of = "5 bar",
              .unit = "psi",
              .expected = 72.52,
              .tolerance = 0.005,
              .ours = (5 * bar).in(psi),
              .tag = Tag::kFound,
              .source = "conversions"});
  expect_row({.row = "5.13",
              .of = "1 bar",
              .unit = "psi",
              .expected = 14.5038,
              .tolerance = 0.00005,
              .ours = (1 * bar).in(psi),
              .source = "conversions"});
}

TEST(SuggestedPressure, StaysWithinTenPercentOfTheChart) {
  // Chart points at 45.4 kg wheel load, from memory to 10 % ([tyre-drop]).
  const std::pair<double, double> chart[] = {{20, 8.4},  {23, 6.5}, {25, 5.6},
                                             {28, 4.55}, {32, 3.6}, {37, 2.75}};
  const PressureRange open{.least = 1 * bar, .most = 12 * bar, .most_set_by = "tyre"};
  for (const auto& [width, pressure] : chart) {
    const auto suggestion = suggested_pressure(45.4 * kg, width * mm, open);
    ASSERT_TRUE(suggestion);
    EXPECT_NEAR(suggestion->pressure.in(bar), pressure, 0.1 * pressure);
    EXPECT_FALSE(suggestion->limited);
  }
}

TEST(SuggestedPressure, NeverLeavesTheMarks) {
  Random random(17);
  for (int i = 0; i < 1000; ++i) {
    const PressureRange range{.least = (0.5 + random.uniform()) * bar,
                              .most = (2 + 3 * random.uniform()) * bar,
                              .most_set_by = "tyre"};
    const Mass load = (20 + 100 * random.uniform()) * kg;
    const auto suggestion = suggested_pressure(load, (20 + 60 * random.uniform()) * mm, range);
    ASSERT_TRUE(suggestion) << "seed 17, case " << i;
    EXPECT_GE(suggestion->pressure, range.least);
    EXPECT_LE(suggestion->pressure, range.most);
  }
}

}  // namespace
}  // namespace rollwright::mech
