#include "mech/gear_chart.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

namespace rollwright::mech {
namespace {

// 28-622 by its geometry: 678 mm.
const DrivenWheel kRoadWheel{678 * mm, 678 * 3.14159265358979 * mm, 170 * mm};

TEST(GearChart, ShowsTheCheckValues) {
  // Rows 4.4 and 4.5, derived: 9.682 m, 121.33 in and 52.28 km/h; 2.130 m, 26.69 in and 11.50 km/h.
  const auto chart = gear_chart({.set = {{34, 50}, {11, 13, 15, 17, 19, 21, 24, 28, 34}},
                                 .wheel = kRoadWheel});
  ASSERT_TRUE(chart);
  const ChartedGear& low = chart->gears.front();
  const ChartedGear& high = chart->gears.back();
  EXPECT_NEAR(low.figures.development.in(metre), 2.130, 0.00055);
  EXPECT_NEAR(low.figures.equivalent.in(inch), 26.69, 0.0055);
  EXPECT_NEAR(low.to.in(km_per_hour), 11.50, 0.0055);
  EXPECT_NEAR(high.figures.development.in(metre), 9.682, 0.00055);
  EXPECT_NEAR(high.to.in(km_per_hour), 52.28, 0.0055);
  EXPECT_EQ(low.front_number, 1);
  EXPECT_EQ(low.rear_number, 1);
  EXPECT_EQ(high.front_number, 2);
  EXPECT_EQ(high.rear_number, 9);
}

TEST(GearChart, CountsWhatRepeats) {
  // 24 x 12 and 48 x 24 are both 2.0; 24 x 24 is 1, 48 x 12 is 4.
  const auto chart = gear_chart({.set = {{24, 48}, {12, 24}}, .wheel = kRoadWheel});
  ASSERT_EQ(chart->gears.size(), 4u);
  EXPECT_EQ(chart->different, 3);
  EXPECT_TRUE(chart->gears[2].repeats);
  EXPECT_NEAR(chart->mean_step_percent, 100, 1e-9);
  EXPECT_NEAR(chart->largest_step_percent, 100, 1e-9);
  // 60 to 90 a minute spans 50 %, so a step of 100 % leaves a hole.
  EXPECT_FALSE(chart->gears[0].reaches_up);
  EXPECT_TRUE(chart->gears[3].reaches_up);
  // Each ring covers one octave, and they meet at 2.0 without sharing.
  ASSERT_EQ(chart->rings.size(), 2u);
  EXPECT_NEAR(chart->rings[0].shared_percent, 0, 1e-9);
}

TEST(GearChart, TellsHowMuchChainringsShare) {
  // Rings 32 and 48 over 12 to 24 teeth: 1.333 to 2.667 and 2 to 4; shared ln(4/3) of ln 2.
  const auto chart = gear_chart({.set = {{48, 32}, {12, 16, 24}}, .wheel = kRoadWheel});
  EXPECT_EQ(chart->rings[0].front, 32);
  for (const RingSpan& ring : chart->rings) {
    EXPECT_NEAR(ring.shared_percent, 100 * std::log(4.0 / 3) / std::log(2.0), 1e-6);
  }
}

TEST(GearChart, ShowsEqualStepsOfAHubGear) {
  // Section 4.1: 14 equal steps from 0.279 to 1.467, 13.62 % (from memory and derived).
  GearSet set{{42}, {17}, {}};
  for (int i = 0; i < 14; ++i) set.hub_ratios.push_back(0.279 * std::pow(1.467 / 0.279, i / 13.0));
  const auto chart = gear_chart({.set = set, .wheel = kRoadWheel});
  EXPECT_EQ(chart->different, 14);
  EXPECT_NEAR(chart->mean_step_percent, 13.62, 0.01);
  EXPECT_NEAR(chart->largest_step_percent, 13.62, 0.01);
  EXPECT_NEAR(chart->range_percent, 525.8, 0.05);
  for (int i = 0; i < 14; ++i) {
    EXPECT_EQ(chart->gears[static_cast<std::size_t>(i)].hub_number, i + 1);
  }
}

TEST(GearChart, RefusesNonsense) {
  EXPECT_EQ(gear_chart({.set = {{42}, {17}}, .wheel = kRoadWheel, .low_cadence = 95}).error().code,
            Code::kContradiction);
  EXPECT_FALSE(gear_chart({.set = {{}, {17}}, .wheel = kRoadWheel}));
  EXPECT_FALSE(gear_chart({.set = {{42}, {17}}, .wheel = kRoadWheel, .same_percent = -1}));
}

}  // namespace
}  // namespace rollwright::mech
