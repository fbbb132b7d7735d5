#include "mech/belt_gears.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

namespace rollwright::mech {
namespace {

/// Invented frame, shelf and hub.
BeltGearsAsked asked_of() {
  return {.belts = {.fronts = {46, 50, 55},
                    .rears = {20, 22, 24},
                    .belts = {108, 111, 113, 115, 118, 120, 122},
                    .least_centre = 415 * mm,
                    .most_centre = 435 * mm,
                    .room_to_tighten = 2 * mm},
          .hub_ratios = {0.527, 1, 1.615},
          .wheel = {716 * mm, 2250 * mm, 170 * mm},
          .lowest_wanted = 2.7 * metre,
          .highest_wanted = 8.3 * metre};
}

TEST(BeltGears, PutsEveryCombinationOnOneSide) {
  const auto found = belt_gears(asked_of());
  ASSERT_TRUE(found) << found.error().full();
  EXPECT_EQ(found->fits.size() + found->refused.size(), 3u * 3 * 7);
  ASSERT_GT(found->fits.size(), 2u);
  for (const BeltRefused& no : found->refused) EXPECT_FALSE(no.sentence.empty());
  for (std::size_t i = 1; i < found->fits.size(); ++i) {
    EXPECT_LE(found->fits[i - 1].off_percent, found->fits[i].off_percent);
  }
  for (const BeltGears& gears : found->fits) {
    // Gears recomputed: front / rear times the hub's ends times 2.25 m.
    const double ratio = static_cast<double>(gears.fit.front) / gears.fit.rear;
    EXPECT_NEAR(gears.lowest.in(metre), ratio * 0.527 * 2.25, 1e-9);
    EXPECT_NEAR(gears.highest.in(metre), ratio * 1.615 * 2.25, 1e-9);
    EXPECT_NEAR(gears.input.in(newton_metre), 150 / ratio, 1e-9);
    EXPECT_LE(gears.worn_centre, 435 * mm);
    EXPECT_GT(gears.worn_centre, gears.fit.run.centre_distance);
  }
}

TEST(BeltGears, StretchMovesTheAxleByHalfOfIt) {
  // With equal pulleys the belt is 2 C and two halves: the axle moves by half the stretch, exactly.
  BeltGearsAsked asked = asked_of();
  asked.belts.fronts = asked.belts.rears = {39};
  asked.belts.belts = {115};
  asked.wear_stretch = 0.004;
  const auto found = belt_gears(asked);
  ASSERT_EQ(found->fits.size(), 1u);
  EXPECT_NEAR((found->fits[0].worn_centre - found->fits[0].fit.run.centre_distance).in(mm),
              0.004 * 115 * 11 / 2, 1e-9);
}

TEST(BeltGears, NamesEveryReason) {
  BeltGearsAsked asked = asked_of();
  const auto why = [&](int front, int rear, int belt) {
    asked.belts.fronts = {front};
    asked.belts.rears = {rear};
    asked.belts.belts = {belt};
    const auto found = belt_gears(asked);
    return found && found->refused.size() == 1 ? found->refused[0].why : static_cast<BeltNo>(-1);
  };
  EXPECT_EQ(why(60, 60, 62), BeltNo::kTooShort);
  EXPECT_EQ(why(55, 22, 113), BeltNo::kTooClose);
  EXPECT_EQ(why(55, 22, 120), BeltNo::kTooFar);
  asked.wear_stretch = 0.01;  // row 4.19: closes at 433.394; 1.6 mm are left
  asked.belts.room_to_tighten = 1 * mm;
  EXPECT_EQ(why(55, 22, 118), BeltNo::kNoRoomWorn);
  asked.wear_stretch = 0.0001;
  asked.hub.least_primary = 2.6;
  EXPECT_EQ(why(55, 22, 118), BeltNo::kPrimary);
  asked.hub = {.most_input = 59 * newton_metre};  // 150 * 22 / 55 = 60
  EXPECT_EQ(why(55, 22, 118), BeltNo::kTorque);
  asked.hub.most_input = 61 * newton_metre;
  EXPECT_EQ(why(55, 22, 118), static_cast<BeltNo>(-1));
}

TEST(BeltGears, RefusesNonsense) {
  BeltGearsAsked asked = asked_of();
  std::swap(asked.lowest_wanted, asked.highest_wanted);
  EXPECT_EQ(belt_gears(asked).error().code, Code::kContradiction);
  asked = asked_of();
  asked.wear_stretch = std::nan("");
  EXPECT_EQ(belt_gears(asked).error().code, Code::kOutOfRange);
  asked = asked_of();
  asked.belts.room_to_tighten = 25 * mm;
  EXPECT_EQ(belt_gears(asked).error().code, Code::kContradiction);
}

}  // namespace
}  // namespace rollwright::mech
