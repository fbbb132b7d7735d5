#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "aids/aids.hpp"

namespace rollwright::aids {
namespace {

WheelOnStand wheel_of(const Typed& typed) {
  const auto reckoned = reckon("truing", typed);
  EXPECT_TRUE(reckoned) << reckoned.error().full();
  EXPECT_TRUE(reckoned->wheel);
  return *reckoned->wheel;
}

std::string eight(const std::string& number) {
  std::string text;
  for (int i = 0; i < 8; ++i) text += number + " ";
  return text;
}

TEST(WheelOnStand, HasEverySpokeInItsPlaceWithItsSidesTarget) {
  const WheelOnStand wheel = wheel_of({});
  ASSERT_EQ(wheel.spokes.size(), 32u);
  for (std::size_t i = 0; i < wheel.spokes.size(); ++i) {
    const auto& spoke = wheel.spokes[i];
    EXPECT_EQ(spoke.number, static_cast<int>(i) + 1);
    EXPECT_EQ(spoke.side, i % 2 == 0 ? "left" : "right");
    EXPECT_NEAR(spoke.angle_deg, 360.0 * static_cast<double>(i) / 32, 1e-9);
    EXPECT_EQ(spoke.target_n, spoke.side == "left" ? 540 : 1100);
    // Three crosses of sixteen holes: the head stands 3 * 360 / 16 degrees away, on the hole circle.
    EXPECT_NEAR(std::abs(spoke.hub_angle_deg - spoke.angle_deg), 67.5, 1e-6) << spoke.number;
    EXPECT_NEAR(spoke.hub_radius_mm, 22.5, 1e-6) << spoke.number;
    EXPECT_EQ(spoke.turn.empty(), spoke.quarters == 0);
  }
  EXPECT_EQ(wheel.rim.size(), 64u) << "at every nipple and midway";
}

TEST(WheelOnStand, DrawsTheRunOutThatItsFiguresSay) {
  const auto reckoned = reckon("truing", {});
  ASSERT_TRUE(reckoned);
  const WheelOnStand& wheel = *reckoned->wheel;
  double least = 0;
  double most = 0;
  double sum = 0;
  for (const auto& place : wheel.rim) {
    least = std::min(least, place.lateral_now_mm);
    most = std::max(most, place.lateral_now_mm);
    sum += place.lateral_now_mm;
  }
  EXPECT_NEAR(sum, 0, 1e-9) << "from the rim's own mean";
  const auto figure = std::ranges::find(reckoned->rows, "Sideways run-out, now", &Row::name);
  ASSERT_NE(figure, reckoned->rows.end());
  EXPECT_NEAR(std::stod(figure->value), most - least, 0.005);
}

TEST(WheelOnStand, ExpectsTheRimInsideItsBandOnceTheTurnsAreMade) {
  const WheelOnStand wheel = wheel_of({});
  ASSERT_EQ(wheel.verdict, "turn");
  for (const auto& place : wheel.rim) {
    EXPECT_LE(std::abs(place.lateral_after_mm - wheel.limits.lateral_middle_mm),
              wheel.limits.lateral_mm / 2 + 1e-9);
    EXPECT_LE(std::abs(place.radial_after_mm - wheel.limits.radial_middle_mm),
              wheel.limits.radial_mm / 2 + 1e-9);
  }
  int turned = 0;
  for (const auto& spoke : wheel.spokes) turned += std::abs(spoke.quarters);
  EXPECT_NE(wheel.said.front().find(std::to_string(turned) + " quarter turns on"),
            std::string::npos) << wheel.said.front();
}

TEST(WheelOnStand, SaysToLeaveATrueWheelAlone) {
  const WheelOnStand wheel = wheel_of({{"lateral", eight("0")}, {"radial", eight("0")}});
  EXPECT_EQ(wheel.verdict, "inside");
  EXPECT_NE(wheel.said.front().find("leave it alone"), std::string::npos);
  for (const auto& spoke : wheel.spokes) EXPECT_EQ(spoke.quarters, 0);
}

TEST(WheelOnStand, SaysThatARimIsBentAndWhere) {
  // Six waves of 1.5 mm either way: the rim is far stiffer than the spokes against them.
  std::string lateral;
  for (int i = 0; i < 16; ++i) {
    lateral += std::to_string(1.5 * std::cos(6 * 2 * std::numbers::pi * i / 16)) + " ";
  }
  std::string radial = eight("0") + eight("0");
  const auto reckoned = reckon("truing", {{"lateral", lateral}, {"radial", radial}});
  ASSERT_TRUE(reckoned) << reckoned.error().full();
  ASSERT_EQ(reckoned->wheel->verdict, "rim bent");
  EXPECT_TRUE(reckoned->wheel->bent_at_deg);
  EXPECT_NE(reckoned->wheel->said.front().find("bent near spoke"), std::string::npos);
  EXPECT_EQ(reckoned->cautions.back(), reckoned->wheel->said.front());
}

TEST(TruingPasses, AsksForANewDishReadingOnceTheTurnsAreMade) {
  const auto first = reckon("truing", {{"dish", "0.4 mm"}});
  ASSERT_TRUE(first) << first.error().full();
  ASSERT_TRUE(first->going_on);
  EXPECT_EQ(first->going_on->fields.at("dish"), "");
  EXPECT_NE(first->going_on->fields.at("earlier").find("dish 0.4 mm"), std::string::npos);
}

TEST(TruingPasses, RefuseAnEarlierPassWithoutItsReadings) {
  const auto refused = reckon("truing", {{"earlier", "radial 0 0 0 0 0 0 0 0; turns 3:-1"}});
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().place.field, "earlier");
  EXPECT_NE(refused.error().sentence.find("no lateral readings"), std::string::npos);
}

}  // namespace
}  // namespace rollwright::aids
