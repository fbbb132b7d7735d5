#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <string>

#include "mech/hill_start.hpp"
#include "mech/pedal_room.hpp"
#include "mech/ride_energy.hpp"
#include "mech/ride_power.hpp"
#include "mech/saddle_post.hpp"
#include "mech/trials/checked.hpp"

// Reference values: road power after Martin, Milliken, Cobb, McFadden and Coggan (1998), with cases
// worked out by hand from its equation; US rule 16 CFR 1512.17 for toe room and lean.

namespace rollwright::mech {
namespace {

using trials::expect_row;

RideAsked level_ride() {
  return {.length = 1 * km,
          .climb = {},
          .whole = 110 * kg,
          .rolling = 0.006,
          .drag_area = 0.5,
          .speed = 20 * km_per_hour,
          .rider = {},
          .motor_efficiency = 0.75,
          .electronics = {}};
}

void expect_energy(const std::string& row, const std::string& of, const std::string& unit,
                   double expected, double tolerance, double ours) {
  expect_row({.row = row,
              .of = of,
              .unit = unit,
              .expected = expected,
              .tolerance = tolerance,
              .ours = ours,
              .source = "road-power"});
}

TEST(RideEnergy, AgreesWithTheRoadPowerEquationOnTheLevel) {
  const auto power = road_power({.whole = 110 * kg, .drag_area_m2 = 0.5, .rolling = 0.006},
                                {.density_kg_m3 = 1.2}, 20 * km_per_hour);
  ASSERT_TRUE(power);
  expect_energy("6.15 power", "110 kg upright at 20 km/h: at the wheel", "W", 88.62, 0.005,
                power->wheel.in(watt));
  expect_energy("6.15 energy", "110 kg upright at 20 km/h: for one km", "Wh", 4.431, 0.001,
                ride_energy(level_ride())->wheel.in(watt_hour));
}

TEST(RideEnergy, LeavesTheMotorWhatTheRiderDoesNotBring) {
  RideAsked ride = level_ride();
  ride.rider = 80 * watt;
  const auto energy = ride_energy(ride);
  ASSERT_TRUE(energy);
  const double per_hour = 20;  // km, so that Wh over one km become W
  expect_energy("6.16 motor", "the same with 80 W of the rider: by the motor", "W", 12.62, 0.005,
                per_hour * (energy->wheel - energy->rider).in(watt_hour));
  expect_energy("6.16 battery", "the same with 80 W of the rider: from the battery", "W", 16.83,
                0.005, per_hour * energy->battery.in(watt_hour));
  expect_energy("6.16 energy", "the same with 80 W of the rider: battery for one km", "Wh", 0.842,
                0.001, energy->battery.in(watt_hour));
}

TEST(RideEnergy, LiftsAHundredAndTenKilogramsByAThousandMetres) {
  RideAsked ride = level_ride();
  const double level = ride_energy(ride)->wheel.in(watt_hour);
  ride.climb = 1000 * metre;
  expect_energy("6.13 lift", "lifting 110 kg by 1000 m", "Wh", 299.65, 0.01,
                ride_energy(ride)->wheel.in(watt_hour) - level);
  expect_energy("6.13 battery", "the same from a battery at 75 %", "Wh", 399.5, 0.05,
                ride_energy(ride)->battery.in(watt_hour) - level / 0.75);
}

TEST(RideEnergy, AStrongRiderSparesTheBatteryAllButTheElectronics) {
  RideAsked ride = level_ride();
  ride.rider = 250 * watt;
  ride.electronics = 5 * watt;
  EXPECT_NEAR(ride_energy(ride)->battery.in(watt_hour), 5.0 / 20, 1e-9);
  EXPECT_EQ(ride_energy(ride)->rider, ride_energy(ride)->wheel);
}

TEST(RideEnergy, GrowsWithLengthClimbAndMassAndFallsWithTheRider) {
  RideAsked ride = level_ride();
  ride.length = 40 * km;
  ride.climb = 500 * metre;
  ride.rider = 60 * watt;
  const Energy first = ride_energy(ride)->battery;
  auto more = [&](auto change) {
    RideAsked other = ride;
    change(other);
    return ride_energy(other)->battery;
  };
  EXPECT_GT(more([](RideAsked& r) { r.length += 1 * km; }), first);
  EXPECT_GT(more([](RideAsked& r) { r.climb += 10 * metre; }), first);
  EXPECT_GT(more([](RideAsked& r) { r.whole += 1 * kg; }), first);
  EXPECT_GT(more([](RideAsked& r) { r.rolling += 0.001; }), first);
  EXPECT_LT(more([](RideAsked& r) { r.rider += 1 * watt; }), first);
}

TEST(RideEnergy, RefusesWhatLiesOutOfRange) {
  RideAsked ride = level_ride();
  ride.speed = 0 * km_per_hour;
  EXPECT_EQ(ride_energy(ride).error().code, Code::kOutOfRange);
  ride = level_ride();
  ride.whole = std::nan("") * kg;
  EXPECT_EQ(ride_energy(ride).error().code, Code::kOutOfRange);
}

HillStart low_gear() {
  return {.front = 46, .rear = 20, .hub_ratio = 0.527, .wheel_diameter = 722 * mm,
          .crank = 170 * mm, .push = 230 * newton, .motor = 65 * newton_metre,
          .whole = 122 * kg, .rolling = 0.006};
}

TEST(HillStart, BalancesPullAndSlope) {
  // The slope found is put back into the balance of forces along the road.
  const HillStart start = low_gear();
  const double angle = std::atan(*steepest_start(start));
  const double gear = 46.0 / 20 * 0.527;
  const double pull = (230 * 0.170 + 65) * 0.95 / gear / 0.361;
  const double needed = 122 * 9.80665 * (std::sin(angle) + 0.006 * std::cos(angle));
  EXPECT_NEAR(pull, needed, 1e-9 * pull);
  EXPECT_NEAR(*steepest_start(start), 0.186, 0.001);  // derived with these numbers
}

TEST(HillStart, LowerGearsAndMoreTorqueStartOnSteeperSlopes) {
  const double first = *steepest_start(low_gear());
  HillStart other = low_gear();
  other.front = 42;
  EXPECT_GT(*steepest_start(other), first);
  other = low_gear();
  other.motor = 85 * newton_metre;
  EXPECT_GT(*steepest_start(other), first);
  other = low_gear();
  other.whole += 20 * kg;
  EXPECT_LT(*steepest_start(other), first);
}

TEST(HillStart, StaysBetweenLevelAndFortyFiveDegrees) {
  HillStart start = low_gear();
  start.push = {};
  start.motor = {};
  EXPECT_EQ(*steepest_start(start), 0);
  start.motor = 250 * newton_metre;
  start.whole = 40 * kg;
  start.hub_ratio = 0.2;
  EXPECT_EQ(*steepest_start(start), 1);
  start.crank = 0 * mm;
  EXPECT_EQ(steepest_start(start).error().code, Code::kOutOfRange);
}

TEST(HillStart, SeatedRiderPushesHalfTheBodysWeightForTwoOverPiOfATurn) {
  EXPECT_NEAR(seated_push(74 * kg)->in(newton), 74 * 9.80665 / std::numbers::pi, 1e-9);
  EXPECT_FALSE(seated_push(0 * kg));
}

TEST(HillStart, AMotorInTheWheelPullsPastTheGears) {
  HillStart hub = low_gear();
  hub.motor = {};
  hub.wheel_motor = 50 * newton_metre;
  const double pull = 230 * 0.170 * 0.95 / (46.0 / 20 * 0.527) / 0.361 + 50 / 0.361;
  const double angle = std::atan(*steepest_start(hub));
  EXPECT_NEAR(122 * 9.80665 * (std::sin(angle) + 0.006 * std::cos(angle)), pull, 1e-9 * pull);
  const double first = *steepest_start(hub);
  hub.front = 92;  // twice the gear: the motor stays as strong
  EXPECT_LT(*steepest_start(hub), first);
  EXPECT_GT(*steepest_start(hub), first / 2);
}

TEST(HillStart, HighestGearOfASlopeStartsJustOnThatSlope) {
  for (const double slope : {0.0, 0.05, 0.12, 0.3}) {
    for (const double hub : {0.0, 12.0}) {
      HillStart start = low_gear();
      start.wheel_motor = hub * newton_metre;
      const auto gear = highest_start_gear(start, slope);
      ASSERT_TRUE(gear);
      if (*gear == 10) continue;  // the motor in the wheel is enough
      start.front = start.rear = 30;
      start.hub_ratio = *gear;
      EXPECT_NEAR(*steepest_start(start), slope, 1e-9) << slope << " " << hub;
    }
  }
  HillStart nobody = low_gear();
  nobody.push = {};
  nobody.motor = {};
  EXPECT_EQ(highest_start_gear(nobody, 0.1).error().code, Code::kNotFound);
  nobody.wheel_motor = 60 * newton_metre;
  EXPECT_EQ(*highest_start_gear(nobody, 0.1), 10);
  EXPECT_EQ(highest_start_gear(low_gear(), 2).error().code, Code::kOutOfRange);
}

StartStance usual_stance() {
  return {.wheelbase = 1080 * mm, .mass_ahead = 430 * mm, .mass_height = 1050 * mm, .grip = 0.7};
}

/// Loads on both wheels over the weight, on a slope without acceleration; and the pull needed.
struct WheelLoads {
  double rear, front, pull;
};
WheelLoads loads_at(const StartStance& stance, double slope, double rolling) {
  // Moments about the front wheel's contact.
  const double angle = std::atan(slope);
  const double rear = (std::cos(angle) * (stance.wheelbase - stance.mass_ahead).in(mm) +
                       std::sin(angle) * stance.mass_height.in(mm)) /
                      stance.wheelbase.in(mm);
  return {rear, std::cos(angle) - rear, std::sin(angle) + rolling * std::cos(angle)};
}

TEST(StartLimits, FrontWheelHasNoLoadLeftWhereItLifts) {
  const auto limits = start_limits(low_gear(), usual_stance());
  ASSERT_TRUE(limits);
  EXPECT_NEAR(limits->by_front_wheel, 430.0 / 1050, 1e-12);  // atan(ahead / height), by hand
  EXPECT_NEAR(loads_at(usual_stance(), limits->by_front_wheel, 0.006).front, 0, 1e-12);
}

TEST(StartLimits, DrivenTyreIsAtItsGripWhereItSlips) {
  StartStance stance = usual_stance();
  stance.grip = 0.3;
  const auto limits = start_limits(low_gear(), stance);
  ASSERT_TRUE(limits);
  const WheelLoads loads = loads_at(stance, limits->by_grip, 0.006);
  EXPECT_NEAR(loads.pull, 0.3 * loads.rear, 1e-12);
  EXPECT_LT(limits->by_grip, 0.3) << "not the whole weight is on the driven wheel";
}

TEST(StartLimits, FrontMotorSlipsFirst) {
  HillStart start = low_gear();
  start.motor = {};
  start.wheel_motor = 60 * newton_metre;
  StartStance stance = usual_stance();
  const auto rear = start_limits(start, stance);
  stance.front_driven = true;
  const auto front = start_limits(start, stance);
  ASSERT_TRUE(rear && front);
  EXPECT_LT(front->by_grip, rear->by_grip);
  const double cranks = 230 * 0.170 * 0.95 / (46.0 / 20 * 0.527) / 0.361;
  const double share = 60 / 0.361 / (60 / 0.361 + cranks);
  const WheelLoads loads = loads_at(stance, front->by_grip, 0.006);
  EXPECT_NEAR(share * loads.pull, 0.7 * loads.front, 1e-12);
}

TEST(StartLimits, NameTheLeastOfTheThree) {
  HillStart start = low_gear();
  StartStance stance = usual_stance();
  auto limits = start_limits(start, stance);
  EXPECT_EQ(limits->limit, StartLimit::kTorque);
  EXPECT_EQ(limits->steepest, *steepest_start(start));
  start.motor = 200 * newton_metre;
  start.front = 22;
  limits = start_limits(start, stance);
  EXPECT_EQ(limits->limit, StartLimit::kFrontWheel);
  stance.grip = 0.3;
  limits = start_limits(start, stance);
  EXPECT_EQ(limits->limit, StartLimit::kGrip);
  EXPECT_EQ(limits->steepest, limits->by_grip);
  start.push = {};
  start.motor = {};
  EXPECT_EQ(start_limits(start, stance)->steepest, 0);
}

TEST(StartLimits, RefuseAMassOutsideTheWheels) {
  StartStance stance = usual_stance();
  stance.mass_ahead = 1100 * mm;
  EXPECT_EQ(start_limits(low_gear(), stance).error().code, Code::kContradiction);
  stance = usual_stance();
  stance.grip = std::nan("");
  EXPECT_EQ(start_limits(low_gear(), stance).error().code, Code::kOutOfRange);
}

TEST(PedalRoom, ToeRoomIsWhatWheelAndCrankLeave) {
  // 641 - 311 - 47 - 170 = 113 mm (sum by hand).
  EXPECT_NEAR(toe_room({641 * mm, 622 * mm, 47 * mm, 170 * mm})->in(mm), 113, 1e-9);
  EXPECT_FALSE(toe_room({641 * mm, 622 * mm, 47 * mm, 0 * mm}));
}

TEST(PedalRoom, LeanedGroundTouchesThePedalsEdgeAndTheTread) {
  const PedalLean lean{62 * mm, 622 * mm, 47 * mm, 170 * mm, 178 * mm, 100 * mm, 24 * mm};
  const double angle = pedal_lean(lean)->in(radian);
  // A plain check: distance of the edge from the tangent to the tread's circle, by its own formula.
  const double up = 311 + 47 - 62 - 170 - 12;
  const double out = 89 + 100;
  const double tread = 23.5;
  const double above = (up - tread) * std::cos(angle) - out * std::sin(angle) + tread;
  EXPECT_NEAR(above, 0, 1e-9);
  EXPECT_GT(angle, std::atan2(up, out));  // a round tread gives more than a sharp one
  EXPECT_NEAR(pedal_lean(lean)->in(degree), 32.03, 0.01);  // derived; a sharp tread: 31.1
}

TEST(PedalRoom, LongerCranksAndWiderPedalsTouchEarlier) {
  const PedalLean lean{62 * mm, 622 * mm, 47 * mm, 170 * mm, 178 * mm, 100 * mm, 24 * mm};
  PedalLean other = lean;
  other.crank = 175 * mm;
  EXPECT_LT(pedal_lean(other)->in(degree), pedal_lean(lean)->in(degree));
  other = lean;
  other.pedal_width = 110 * mm;
  EXPECT_LT(pedal_lean(other)->in(degree), pedal_lean(lean)->in(degree));
  other = lean;
  other.bracket_drop = 150 * mm;
  other.bead_seat = 349 * mm;
  EXPECT_EQ(pedal_lean(other).error().code, Code::kContradiction);
}

TEST(SaddlePost, InsertionIsWhatTheRidingHeightLeavesInTheTube) {
  // Inseam 790: saddle at 697.57; tube 480, post 400, saddle 50: 232.43 mm deep (0.883 by hand).
  EXPECT_NEAR(post_insertion({790 * mm, 480 * mm, 400 * mm, 50 * mm})->in(mm), 232.43, 1e-6);
  EXPECT_LT(*post_insertion({990 * mm, 400 * mm, 350 * mm, 50 * mm}), 0 * mm);
}

TEST(SaddlePost, DropperIsTooTallWhenItsCollarWouldHaveToSinkIntoTheTube) {
  // 215 mm stand above the collar; 697.57 - 480 - 50 = 167.57 mm are to be filled: 47.43 too much.
  EXPECT_NEAR(dropper_room({790 * mm, 480 * mm, 480 * mm, 50 * mm}, 265 * mm)->in(mm), -47.43,
              1e-6);
  EXPECT_FALSE(dropper_room({790 * mm, 480 * mm, 480 * mm, 50 * mm}, 0 * mm));
}

}  // namespace
}  // namespace rollwright::mech
