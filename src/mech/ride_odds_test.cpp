#include "mech/ride_odds.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

// The way, the bike and the rider are invented.

namespace rollwright::mech {
namespace {

RideWay way_with_hills(double metres) {
  RideWay way;
  const auto level = [](double at) {
    return 200 - 30 * std::cos(at * 2 * std::numbers::pi / 3000);
  };
  for (double at = 0; at < metres; at += 20) {
    way.pieces.push_back({.way = 20 * metre, .rise = (level(at + 20) - level(at)) * metre,
                          .elevation = level(at + 10) * metre,
                          .heading_deg = at < metres / 2 ? 90.0 : -90.0,
                          .starts_anew = at == 0});
    way.length += 20 * metre;
  }
  return way;
}

OddsAsked usual() {
  OddsAsked asked;
  asked.ride.bike.road = {.whole = 115 * kg, .drag_area_m2 = 0.6, .rolling = 0.007};
  asked.ride.bike.motor = *motor_by_print({.place = MotorPlace::kCranks, .most = 500 * watt,
                                           .support = 2, .most_torque = 60 * newton_metre,
                                           .free_turns_per_min = 130, .supply = 36 * volt});
  asked.ride.rider.power = {80 * watt, 0.2};
  asked.ride.law = *assist_law("eu-pedelec");
  asked.ride.weather.wind.at_ten_metres = 3 * metre_per_second;
  asked.battery = {.printed = 300 * watt_hour};
  asked.draws = 200;
  asked.seed = 17;
  return asked;
}

RideSpread no_spread() {
  return {.wind = {}, .wind_from_deg = 0, .rolling = 0, .drag = 0, .health = 0,
          .temperature_c = 0, .model = 0};
}

TEST(RideOdds, SameSeedSameOdds) {
  const RideWay way = way_with_hills(20000);
  const auto first = ride_odds(way, usual());
  ASSERT_TRUE(first) << first.error().full();
  const auto again = ride_odds(way, usual());
  EXPECT_EQ(first->home, again->home);
  EXPECT_EQ(first->left.middle, again->left.middle);
  EXPECT_EQ(first->seconds.high, again->seconds.high);
  EXPECT_EQ(first->along.back().left.low, again->along.back().left.low);
  OddsAsked other = usual();
  other.seed = 18;
  EXPECT_NE(ride_odds(way, other)->left.middle, first->left.middle);
}

TEST(RideOdds, WithoutAnySpreadEveryDrawIsTheOneRide) {
  OddsAsked asked = usual();
  asked.spread = no_spread();
  asked.ride.rider.power.day_spread = 0;
  const RideWay way = way_with_hills(20000);
  const auto odds = ride_odds(way, asked);
  ASSERT_TRUE(odds);
  Ride ride = asked.ride;
  ride.charge = *usable_energy(asked.battery, 15);
  const auto run = ride_along(way, ride, asked.longest_step);
  EXPECT_NEAR(odds->left.low.in(watt_hour), run->left.in(watt_hour), 1e-9);
  EXPECT_NEAR(odds->left.high.in(watt_hour), run->left.in(watt_hour), 1e-9);
  EXPECT_NEAR(odds->seconds.middle, run->seconds, 1e-6);
  EXPECT_EQ(odds->home, run->empty_at ? 0 : 1);
}

TEST(RideOdds, EverySpreadAloneSpreadsTheChargeLeft) {
  RideWay way = way_with_hills(12000);
  for (RidePiece& piece : way.pieces) piece.heading_deg = 45;  // the wind comes from 0
  const auto left_with = [&](auto change) {
    OddsAsked asked = usual();
    asked.battery.printed = 600 * watt_hour;
    asked.spread = no_spread();
    asked.ride.rider.power.day_spread = 0;
    change(asked);
    return ride_odds(way, asked)->left;
  };
  const auto narrow = left_with([](OddsAsked&) {});
  EXPECT_EQ(narrow.low, narrow.high);
  const auto spreads = [&](auto change) {
    const auto left = left_with(change);
    return left.low < left.middle && left.middle < left.high &&
           left.high - left.low > 1 * watt_hour;
  };
  EXPECT_TRUE(spreads([](OddsAsked& a) { a.ride.rider.power.day_spread = 0.2; }));
  EXPECT_TRUE(spreads([](OddsAsked& a) { a.spread.wind = 2 * metre_per_second; }));
  EXPECT_TRUE(spreads([](OddsAsked& a) { a.spread.rolling = 0.2; }));
  EXPECT_TRUE(spreads([](OddsAsked& a) { a.spread.drag = 0.2; }));
  EXPECT_TRUE(spreads([](OddsAsked& a) { a.spread.health = 0.1; a.battery.health = 0.8; }));
  EXPECT_TRUE(spreads([](OddsAsked& a) { a.spread.temperature_c = 4; }));
  EXPECT_TRUE(spreads([](OddsAsked& a) { a.spread.model = 0.1; }));
  EXPECT_TRUE(spreads([](OddsAsked& a) { a.spread.wind_from_deg = 30; }));
}

TEST(RideOdds, TellHowOftenTheRiderWalks) {
  RideWay way = way_with_hills(2000);
  for (RidePiece& piece : way.pieces) piece.rise = 3.6 * metre;  // 18 %
  OddsAsked asked = usual();
  asked.ride.bike.motor->support = 0;
  EXPECT_EQ(ride_odds(way, asked)->walked, 1);
  asked.ride.bike.motor->support = 5;
  asked.ride.bike.low_gear = 1.5 * metre;
  asked.ride.rider.power.typical = 120 * watt;
  EXPECT_EQ(ride_odds(way, asked)->walked, 0);
}

TEST(RideOdds, LargerBatteriesNeverComeHomeLess) {
  const RideWay way = way_with_hills(24000);
  double before = 0;
  int between = 0;
  for (double printed = 100; printed <= 400; printed += 30) {
    OddsAsked asked = usual();
    asked.battery.printed = printed * watt_hour;
    const auto odds = ride_odds(way, asked);
    ASSERT_TRUE(odds);
    EXPECT_GE(odds->home, before) << printed;
    before = odds->home;
    between += 0 < odds->home && odds->home < 1 ? 1 : 0;
    EXPECT_EQ(odds->empty, std::lround((1 - odds->home) * odds->draws));
    EXPECT_EQ(odds->empty_at.has_value(), odds->empty > 0);
  }
  EXPECT_GE(between, 2) << "the sizes must straddle what the way asks for";
  EXPECT_EQ(before, 1);
}

TEST(RideOdds, AgreeWithTheNormalDistributionWhereOnlyHealthIsUnsure) {
  // One ride tells what the way takes; the share of batteries that hold it is then in the tables.
  const RideWay way = way_with_hills(24000);
  OddsAsked asked = usual();
  asked.spread = no_spread();
  asked.spread.health = 0.05;
  asked.ride.rider.power.day_spread = 0;
  asked.draws = 2000;
  Ride ample = asked.ride;
  ample.charge = 2000 * watt_hour;
  const Energy taken = ride_along(way, ample, asked.longest_step)->from_battery;
  for (const double deviations : {-1.0, 0.0, 0.7, 1.5}) {
    // The battery is so large that a health of `deviations` under its middle is just enough.
    asked.battery = {.printed = 300 * watt_hour, .health = 0.75 - 0.05 * deviations};
    asked.battery.printed = asked.battery.printed * (taken / *usable_energy(asked.battery, 15));
    asked.battery.health = 0.75;
    const auto odds = ride_odds(way, asked);
    ASSERT_TRUE(odds) << odds.error().full();
    const double expected = 0.5 * std::erfc(-deviations / std::sqrt(2.0));
    EXPECT_NEAR(odds->home, expected, 4 * std::sqrt(expected * (1 - expected) / asked.draws))
        << deviations;
  }
}

TEST(RideOdds, ColdAndAgeLowerThem) {
  const RideWay way = way_with_hills(24000);
  OddsAsked asked = usual();
  asked.battery.printed = 230 * watt_hour;
  const double first = ride_odds(way, asked)->home;
  OddsAsked cold = asked;
  cold.ride.weather.air.temperature_c = -5;
  EXPECT_LT(ride_odds(way, cold)->home, first);
  OddsAsked old = asked;
  old.battery.health = 0.75;
  EXPECT_LT(ride_odds(way, old)->home, first);
}

TEST(RideOdds, ChargeAlongTheWayFallsAndItsPlacesStandInOrder) {
  const auto odds = ride_odds(way_with_hills(24000), usual());
  ASSERT_TRUE(odds);
  ASSERT_EQ(odds->along.size(), 100u);
  EXPECT_NEAR(odds->along.back().along.in(km), 24, 1e-9);
  const LeftAlong* before = nullptr;
  for (const LeftAlong& place : odds->along) {
    EXPECT_LE(place.left.low, place.left.middle);
    EXPECT_LE(place.left.middle, place.left.high);
    if (before != nullptr) {
      EXPECT_GT(place.along, before->along);
      EXPECT_LE(place.left.low, before->left.low);
      EXPECT_LE(place.left.middle, before->left.middle);
      EXPECT_LE(place.left.high, before->left.high);
    }
    before = &place;
  }
  EXPECT_EQ(before->left.middle, odds->left.middle);
  EXPECT_LE(odds->worst_balance_error, 1e-9);
}

TEST(RideOdds, BandHoldsTheShareAndNarrowsWithDraws) {
  const RideWay way = way_with_hills(24000);
  OddsAsked asked = usual();
  asked.battery.printed = 230 * watt_hour;
  const auto few = ride_odds(way, asked);
  asked.draws = 1600;
  asked.seed = 99;
  const auto many = ride_odds(way, asked);
  EXPECT_LT(few->home_least, few->home);
  EXPECT_GT(few->home_most, few->home);
  // Eight times the draws, 1/sqrt(8) of the width.
  EXPECT_NEAR((many->home_most - many->home_least) / (few->home_most - few->home_least),
              1 / std::sqrt(8.0), 0.06);
  EXPECT_GT(many->home, few->home_least - 0.03);
  EXPECT_LT(many->home, few->home_most + 0.03);
}

TEST(RideOdds, BandIsWilsonsInterval) {
  // By hand for all of 100 at home: 1 / (1 + 3.8415 / 100) = 0.9630 to 1.
  OddsAsked asked = usual();
  asked.battery.printed = 2000 * watt_hour;
  asked.draws = 100;
  const auto odds = ride_odds(way_with_hills(5000), asked);
  EXPECT_EQ(odds->home, 1);
  EXPECT_NEAR(odds->home_least, 0.9630, 0.0001);
  EXPECT_NEAR(odds->home_most, 1, 1e-12);
  EXPECT_FALSE(odds->empty_at);
}

TEST(RideOdds, TellWhereItRunsOut) {
  OddsAsked asked = usual();
  asked.battery.printed = 100 * watt_hour;
  const auto odds = ride_odds(way_with_hills(40000), asked);
  ASSERT_TRUE(odds->empty_at);
  EXPECT_EQ(odds->home, 0);
  EXPECT_GT(odds->empty_at->low, 5 * km);
  EXPECT_LT(odds->empty_at->low, odds->empty_at->middle);
  EXPECT_LT(odds->empty_at->high, 40 * km);
  // Half of the draws have run out where the middle of the charge left becomes nothing.
  for (const LeftAlong& place : odds->along) {
    const Length past = place.along - odds->empty_at->middle;
    if (past < -400 * metre) { EXPECT_GT(place.left.middle, Energy{}); }
    if (past > 400 * metre) { EXPECT_EQ(place.left.middle, Energy{}); }
  }
}

TEST(RideOdds, RefuseWhatCannotBeAsked) {
  const RideWay way = way_with_hills(5000);
  OddsAsked asked = usual();
  asked.draws = 10;
  EXPECT_EQ(ride_odds(way, asked).error().place.field, "draws");
  asked = usual();
  asked.ride.bike.motor.reset();
  EXPECT_EQ(ride_odds(way, asked).error().code, Code::kRefused);
  asked = usual();
  asked.battery = {};
  EXPECT_EQ(ride_odds(way, asked).error().place.field, "battery");
  asked = usual();
  asked.spread.rolling = 2;
  EXPECT_EQ(ride_odds(way, asked).error().code, Code::kOutOfRange);
  EXPECT_EQ(ride_odds({}, usual()).error().code, Code::kNotFound);
  asked = usual();
  asked.draws = 100000;
  EXPECT_EQ(ride_odds(way_with_hills(200000), asked).error().code, Code::kTooLarge);
}

}  // namespace
}  // namespace rollwright::mech
