#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <set>
#include <string>

#include "base/random.hpp"
#include "mech/assist.hpp"
#include "mech/battery.hpp"
#include "mech/ride_drive.hpp"
#include "mech/ride_motor.hpp"
#include "mech/rider_power.hpp"
#include "mech/trials/checked.hpp"

namespace rollwright::mech {
namespace {

TEST(AssistLaw, HoldsTheLimitsOfTheLaws) {
  // 168/2013 and EN 15194 (industry text found); 16 CFR 1512.2 and the states' classes from memory.
  const auto pedelec = assist_law("eu-pedelec");
  ASSERT_TRUE(pedelec);
  EXPECT_NEAR(pedelec->help_ends.in(km_per_hour), 25, 1e-12);
  EXPECT_NEAR(pedelec->help_ends.in(mile_per_hour), 15.53, 0.005);
  EXPECT_EQ(pedelec->most_rated, 250 * watt);
  EXPECT_EQ(pedelec->walking_help, 6 * km_per_hour);
  EXPECT_NEAR(pedelec->help_ends.in(km_per_hour) * (1 + pedelec->end_tolerance), 27.5, 1e-9);
  EXPECT_EQ(pedelec->runs_on, 2 * metre);
  EXPECT_EQ(pedelec->runs_on_with_brake_switches, 5 * metre);
  EXPECT_FALSE(pedelec->throttle);
  EXPECT_NEAR(assist_law("us-class-1")->help_ends.in(km_per_hour), 32.19, 0.005);
  EXPECT_TRUE(assist_law("us-class-2")->throttle);
  EXPECT_NEAR(assist_law("us-class-3")->help_ends.in(km_per_hour), 45.06, 0.005);
  EXPECT_EQ(assist_law("eu-l1e-b")->most_rated, 4000 * watt);
  EXPECT_NEAR(assist_law("eu-l1e-b")->help_ends.in(km_per_hour), 45, 1e-12);
}

TEST(AssistLaw, HasOneRowForAKeyAndASourceForEachRow) {
  std::set<std::string_view> keys;
  for (const AssistLaw& law : assist_laws()) {
    EXPECT_TRUE(keys.insert(law.key).second) << law.key;
    EXPECT_FALSE(law.source.empty());
    EXPECT_LT(law.fades_from, law.help_ends) << law.key;
  }
  const auto unknown = assist_law("moon");
  EXPECT_EQ(unknown.error().code, Code::kNotFound);
  EXPECT_NE(unknown.error().sentence.find("eu-pedelec"), std::string::npos);
}

TEST(AssistLaw, HelpFadesAndIsGoneAtTheEnd) {
  for (const AssistLaw& law : assist_laws()) {
    double before = 1;
    for (double v = 0; v < 15; v += 0.01) {
      const double share = help_at(law, v * metre_per_second);
      EXPECT_LE(share, before);
      EXPECT_LE(before - share, 0.02) << "no jump in " << law.key;
      before = share;
    }
    EXPECT_EQ(help_at(law, law.help_ends), 0);
  }
}

TEST(Battery, EnergyIsVoltageTimesCharge) {
  struct Row {
    const char* of;
    double volts, ampere_hours, watt_hours;
  };
  for (const Row& row : {Row{"36 V and 14 Ah", 36, 14, 504},
                         {"36 V and 10.4 Ah", 36, 10.4, 374.4},
                         {"48 V and 14 Ah", 48, 14, 672}}) {
    trials::expect_row({.row = std::string("6.14 ") + row.of,
                        .of = std::string("energy of a battery of ") + row.of,
                        .unit = "Wh",
                        .expected = row.watt_hours,
                        .tolerance = 0.0001,
                        .ours = battery_energy(row.volts * volt, row.ampere_hours).in(watt_hour),
                        .tag = trials::Tag::kIdentity,
                        .source = "e-bike-energy"});
  }
}

TEST(Battery, GivesLessInTheCold) {
  const std::pair<double, double> rows[] = {
      {40, 1}, {20, 1}, {10, 0.95}, {0, 0.85}, {-10, 0.70}, {-20, 0.55}};  // from memory
  for (const auto& [celsius, share] : rows) EXPECT_NEAR(*cold_share(celsius), share, 1e-12);
  trials::expect_row({.row = "6.25",
                      .of = "charge of a cell at 2 °C over that at 32 °C",
                      .expected = 0.875,
                      .tolerance = 0.01,
                      .ours = *cold_share(2) / *cold_share(32),
                      .tag = trials::Tag::kFound,
                      .source = "battery-cold"});
  double before = 0;
  for (double celsius = -20; celsius <= 60; celsius += 0.5) {
    EXPECT_GE(*cold_share(celsius), before);
    before = *cold_share(celsius);
  }
  EXPECT_EQ(cold_share(-25).error().code, Code::kOutOfRange);
}

TEST(Battery, UsableEnergyIsTheProductOfItsShares) {
  const Battery battery{.printed = 500 * watt_hour, .health = 0.8, .window = 0.9, .reserve = 0.1};
  EXPECT_NEAR(usable_energy(battery, 0)->in(watt_hour), 500 * 0.8 * 0.9 * 0.85 * 0.9, 1e-9);
  EXPECT_EQ(usable_energy({}, 20).error().place.field, "battery");
  EXPECT_EQ(usable_energy({.printed = 500 * watt_hour, .health = 1.1}, 20).error().code,
            Code::kOutOfRange);
}

TEST(Battery, HealthFallsWithUseAndYears) {
  EXPECT_EQ(*health_by_age(0, 0), 1);
  EXPECT_NEAR(*health_by_age(500, 3.5), 0.80, 0.005);  // the anchor of [battery-age]
  EXPECT_LT(*health_by_age(200, 2), *health_by_age(100, 2));
  EXPECT_EQ(*health_by_age(3000, 20), 0.3);
  EXPECT_EQ(health_by_age(-1, 0).error().code, Code::kOutOfRange);
}

MotorPrint crank_motor() {
  return {.place = MotorPlace::kCranks, .most = 550 * watt, .support = 2.5,
          .most_torque = 65 * newton_metre, .free_turns_per_min = 130, .supply = 36 * volt};
}

TEST(Motor, ByPrintHasThePrintedFigures) {
  const auto motor = motor_by_print(crank_motor());
  ASSERT_TRUE(motor) << motor.error().full();
  const double turn = 2 * std::numbers::pi / 60;
  EXPECT_NEAR(most_motor_torque(*motor, 0).value, 65, 1e-9);
  EXPECT_NEAR(most_motor_torque(*motor, 130 * turn).value, 0, 1e-9);
  EXPECT_GT(most_motor_torque(*motor, 129 * turn).value, 0);
  // A scan over torque and turns finds no point better than the printed best efficiency. At a
  // voltage of its own each speed has its best torque; the full supply has the best of all.
  double best = 0;
  for (double torque = 0.5; torque < 65; torque += 0.5) {
    const double k = motor->per_ampere.in(newton_metre);
    const double current = torque / k + motor->idle.in(ampere);
    const double turning = (36 - motor->resistance_ohm * current) / k;
    best = std::max(best, torque * turning / (36 * current));
  }
  EXPECT_NEAR(best, 0.85, 0.001);
}

TEST(Motor, InputIsVoltageTimesCurrent) {
  // By hand: k 2 N·m/A, R 0.2 ohm, I0 0.5 A; 60 turns a minute, 125.66 W: 20 N·m, 10.5 A,
  // 2 * 6.2832 + 2.1 = 14.666 V, 154.0 W, over 0.95: 162.1 W.
  const Motor motor{.per_ampere = 2 * newton_metre, .resistance_ohm = 0.2, .idle = 0.5 * ampere};
  const double mechanical = 20 * 2 * std::numbers::pi;
  EXPECT_NEAR(motor_input(motor, mechanical * watt, 60)->in(watt), 162.1, 0.05);
  EXPECT_EQ(motor_input(motor, {}, 60)->in(watt), 0);
  EXPECT_EQ(motor_input(motor, 1000 * watt, 60).error().code, Code::kContradiction);
  EXPECT_EQ(motor_input(motor, 100 * watt, 0).error().code, Code::kOutOfRange);
}

TEST(Motor, LosesMostWhenItTurnsSlowly) {
  // Drive units reach 0.80 to 0.85 at best and 0.70 to 0.80 over a route; hub motors on steep
  // slopes far less (from memory).
  const auto motor = motor_by_print({.place = MotorPlace::kWheel, .most = 500 * watt,
                                     .most_torque = 45 * newton_metre, .free_turns_per_min = 270,
                                     .supply = 36 * volt});
  ASSERT_TRUE(motor) << motor.error().full();
  const double fast = 250 / motor_input(*motor, 250 * watt, 190)->in(watt);
  const double slow = 250 / motor_input(*motor, 250 * watt, 65)->in(watt);
  EXPECT_GT(fast, 0.70);
  EXPECT_LT(fast, 0.86);
  EXPECT_LT(slow, fast - 0.15);
}

TEST(Motor, RefusesPrintsThatContradict) {
  MotorPrint print = crank_motor();
  print.most_torque = 250 * newton_metre;
  print.idle = 15 * watt;  // 36 V, windings of 0.53 ohm: 179 N·m at standstill, by hand
  EXPECT_EQ(motor_by_print(print).error().code, Code::kContradiction);
  print = crank_motor();
  print.free_turns_per_min = 0;
  EXPECT_EQ(motor_by_print(print).error().code, Code::kOutOfRange);
}

TEST(RiderPower, ComesFromStyleAndMass) {
  EXPECT_NEAR(rider_power_by_style("steady", 70 * kg)->typical.in(watt), 91, 1e-9);
  EXPECT_EQ(rider_power_by_style("flying", 70 * kg).error().code, Code::kNotFound);
  EXPECT_EQ(rider_power_by_style("easy", 0 * kg).error().code, Code::kOutOfRange);
}

TEST(RiderPower, DaysSpreadAsStated) {
  const RiderPower rider{120 * watt, 0.2};
  Random random(77);
  double sum = 0, squares = 0;
  int under = 0;
  const int days = 40000;
  for (int i = 0; i < days; ++i) {
    const double watts = power_of_day(rider, random.normal()).in(watt);
    sum += watts;
    squares += watts * watts;
    under += watts < 120 ? 1 : 0;
  }
  const double mean = sum / days;
  EXPECT_NEAR(under, days / 2, 4 * std::sqrt(days / 4.0)) << "the typical day is the middle";
  EXPECT_NEAR(std::sqrt(squares / days - mean * mean) / mean, 0.2, 0.005);
  EXPECT_EQ(power_of_day({120 * watt, 0}, 2.0), 120 * watt);
}

Ride driven(MotorPlace place, const char* law) {
  MotorPrint print = crank_motor();
  if (place == MotorPlace::kWheel) {
    print.place = place;
    print.free_turns_per_min = 270;
    print.most_torque = 40 * newton_metre;
  }
  return {.bike = {.road = {.whole = 110 * kg}, .motor = *motor_by_print(print)},
          .rider = {.power = {100 * watt, 0}},
          .law = *assist_law(law),
          .weather = {},
          .charge = 400 * watt_hour};
}

TEST(RideDrive, PullNeverRisesWithSpeedAndItsSlopeIsItsDerivative) {
  for (const AssistLaw& law : assist_laws()) {
    for (const MotorPlace place : {MotorPlace::kCranks, MotorPlace::kWheel}) {
      const RideDrive drive(driven(place, std::string(law.key).c_str()));
      double before = 1e9;
      for (double v = 1.0005; v < 14; v += 0.001) {
        const double pull = drive.pull(v).value;
        EXPECT_LE(pull, before) << law.key << " at " << v;
        before = pull;
        const double step = 1e-6;
        const double rise = (drive.pull(v + step).value - drive.pull(v - step).value) / (2 * step);
        const double left = drive.pull(v - step).slope;
        const double right = drive.pull(v + step).slope;
        if (std::fabs(left - right) > 1e-3 * (1 + std::fabs(left))) continue;  // a kink
        EXPECT_NEAR(drive.pull(v).slope, rise, 1e-4 * (1 + std::fabs(rise))) << law.key << " " << v;
      }
    }
  }
}

TEST(RideDrive, MotorAtTheCranksTurnsAsTheGearsLetIt) {
  Ride ride = driven(MotorPlace::kCranks, "us-class-3");
  ride.bike.high_gear = 4 * metre;
  // 36 km/h in a gear of 4 m are 150 turns a minute; the motor gives nothing over 130.
  EXPECT_EQ(RideDrive(ride).motor_pull(10).value, 0);
  ride.bike.high_gear = 8 * metre;
  EXPECT_GT(RideDrive(ride).motor_pull(10).value, 0);
}

TEST(RideDrive, BatteryGivesWhatTheMotorTakesAtItsShaft) {
  const Ride ride = driven(MotorPlace::kCranks, "eu-pedelec");
  const RideDrive drive(ride);
  const double pull = drive.motor_pull(4).value;
  const Power shaft = pull * 4 / ride.bike.road.drive_efficiency * watt;
  EXPECT_NEAR(drive.battery_watts(pull, 4),
              motor_input(*ride.bike.motor, shaft, ride.rider.turns_per_min)->in(watt), 1e-9);
  EXPECT_EQ(drive.battery_watts(0, 4), 0);
}

TEST(RideDrive, HelpsOnlyAPedallingRiderUnlessThereIsAThrottle) {
  Ride ride = driven(MotorPlace::kCranks, "us-class-1");
  ride.rider.power = {};
  EXPECT_EQ(RideDrive(ride).motor_pull(3).value, 0);
  ride.law = *assist_law("us-class-2");
  EXPECT_GT(RideDrive(ride).motor_pull(3).value, 0);
  EXPECT_EQ(RideDrive(ride).motor_pull(9).value, 0) << "over 20 mph";
}

TEST(RideDrive, MotorGivesSupportTimesTheRiderUpToItsMost) {
  Ride ride = driven(MotorPlace::kCranks, "eu-pedelec");
  const double efficiency = ride.bike.road.drive_efficiency;
  EXPECT_NEAR(RideDrive(ride).motor_pull(4).value * 4 / efficiency, 250, 1e-9);
  ride.rider.power = {300 * watt, 0};
  const double cadence = 70 * 2 * std::numbers::pi / 60;
  const double at_cadence = most_motor_torque(*ride.bike.motor, cadence).value * cadence;
  EXPECT_NEAR(RideDrive(ride).motor_pull(5).value * 5 / efficiency, std::min(at_cadence, 550.0),
              1e-9);
}

}  // namespace
}  // namespace rollwright::mech
