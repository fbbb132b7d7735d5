#include <gtest/gtest.h>

#include <cmath>

#include "base/random.hpp"
#include "mech/brake_force.hpp"
#include "mech/rotor_heat.hpp"
#include "mech/stopping.hpp"

namespace rollwright::mech {
namespace {

BrakingBike bike_of(double behind_m, double height_m, double wheelbase_m, double grip) {
  return {.whole = 100 * kg,
          .wheelbase = wheelbase_m * metre,
          .centre_behind_front = behind_m * metre,
          .centre_height = height_m * metre,
          .grip = grip};
}

TEST(Stopping, TestsAreDataWithASource) {
  ASSERT_EQ(brake_tests().size(), 18u);
  for (const BrakeTest& test : brake_tests()) {
    EXPECT_FALSE(test.source.empty());
    EXPECT_GT(*deceleration_over(test.speed, test.most), 0.9);
    EXPECT_LT(*deceleration_over(test.speed, test.most), 5);
  }
}

TEST(Stopping, CorrectsARunThatWasNearlyRight) {
  // EN 14766 4.6.7.5.1.9, found: S (Vs / Vm)^2 within 1.5 km/h.
  EXPECT_NEAR(corrected_braking(7 * metre, 26 * km_per_hour, 25 * km_per_hour)->in(metre),
              7 * 625.0 / 676, 1e-9);
  EXPECT_EQ(corrected_braking(7 * metre, 26.6 * km_per_hour, 25 * km_per_hour).error().code,
            Code::kRefused);
}

TEST(Braking, SaysThatTheBikeWouldTipOver) {
  EXPECT_EQ(hardest_braking(bike_of(0.6, 1.1, 1.02, 1.2))->limit, BrakingLimit::kTippingOver);
}

/// Loads on the wheels under braking on a slope, by moments about the centre of mass: the second
/// opinion for hardest_braking.
bool possible(const BrakingBike& bike, double mps2) {
  const double angle = std::atan(bike.slope);
  const double a = bike.centre_behind_front.in(metre), h = bike.centre_height.in(metre);
  const double b = bike.wheelbase.in(metre) - a;
  const double force = mps2 - 9.80665 * std::sin(angle);  // of the brakes, per kilogram
  const double load = 9.80665 * std::cos(angle);
  const double front = (load * b + force * h) / (a + b);
  const double rear = load - front;
  if (rear < -1e-9) return false;
  if (bike.braked == Braked::kRearOnly) return force <= bike.grip * rear;
  if (bike.braked == Braked::kFrontOnly) return force <= bike.grip * front;
  return force <= bike.grip * (front + rear);
}

TEST(Braking, AgreesWithLoadsFoundByTrial) {
  Random random(81);
  int compared = 0;
  for (int i = 0; i < 500; ++i) {
    BrakingBike bike = bike_of(0.4 + 0.4 * random.uniform(), 0.8 + 0.4 * random.uniform(),
                               1 + 0.8 * random.uniform(), 0.3 + 0.6 * random.uniform());
    bike.braked = static_cast<Braked>(random.below(3));
    bike.slope = 0.3 * random.uniform() - 0.15;
    const auto found = hardest_braking(bike);
    double most = 0;
    while (possible(bike, most + 0.001)) most += 0.001;
    if (!found) {
      EXPECT_LT(most, 0.001) << "seed 81, case " << i;
      continue;
    }
    ++compared;
    ASSERT_NEAR(found->most_mps2, most, 0.0011) << "seed 81, case " << i;
  }
  EXPECT_GT(compared, 400);
}

TEST(Braking, IsNoHarderThanTheBrakes) {
  BrakingBike bike = bike_of(0.6, 1.1, 1.02, 0.7);
  bike.brake_force = 250 * newton;
  EXPECT_NEAR(hardest_braking(bike)->most_mps2, 2.5, 1e-12);
  EXPECT_EQ(hardest_braking(bike)->limit, BrakingLimit::kBrakeForce);
  bike.slope = -0.3;  // pulls with 2.8 m/s^2
  EXPECT_EQ(hardest_braking(bike).error().code, Code::kContradiction);
}

TEST(Braking, RefusesWhatCannotBe) {
  EXPECT_EQ(hardest_braking(bike_of(1.2, 1, 1, 0.5)).error().code, Code::kContradiction);
  EXPECT_EQ(hardest_braking(bike_of(0.6, 1, 1, std::nan(""))).error().code, Code::kOutOfRange);
  EXPECT_FALSE(stopping_distance(25 * km_per_hour, -1, 5));
  EXPECT_FALSE(deceleration_over(25 * km_per_hour, 0 * metre));
}

TEST(BrakeForce, RunsThroughTheChainAndBack) {
  // 40 N by hand: 5 x 0.85 at the calliper, doubled, two pads of 0.4, 75 mm over 340 mm.
  const BrakeChain chain{.pad_radius = 75 * mm, .tyre_radius = 340 * mm};
  EXPECT_NEAR(brake_force(chain, 40 * newton)->in(newton),
              40 * 5 * 0.85 * 2 * 0.8 * 75 / 340, 1e-9);
  EXPECT_NEAR(hand_force(chain, *brake_force(chain, 40 * newton))->in(newton), 40, 1e-9);
  EXPECT_FALSE(brake_force({.pad_radius = 0 * mm, .tyre_radius = 340 * mm}, 40 * newton));
}

TEST(MassLimits, NameTheStrictest) {
  const std::vector<MassLimit> limits = {{"frame", 160 * kg}, {"front brake", 120 * kg}};
  EXPECT_EQ(mass_within(limits, 125 * kg)->strictest.name, "front brake");
  EXPECT_FALSE(mass_within(limits, 125 * kg)->holds);
  EXPECT_TRUE(mass_within(limits, 120 * kg)->holds);
  EXPECT_EQ(mass_within({}, 100 * kg).error().code, Code::kBadInput);
}

// 150 g of steel in air that carries off h = 60 W/(m^2 K) whatever the speed.
Rotor rotor_of(double h, double emissivity) {
  return {.mass = 150 * gram,
          .emissivity = emissivity,
          .air_still_w_per_m2_k = h,
          .air_per_mps_w_per_m2_k = 0};
}

TEST(RotorHeat, FollowsTheExponentialOfAConstantDescent) {
  // Without radiation the answer is closed: T = Ta + P / hA (1 - exp(-t / tau)), tau 41.7 s.
  const Rotor rotor = rotor_of(60, 0);
  const DescendingBike bike{.whole = 100 * kg, .share = 0.4};
  const DescentPiece piece{2 * km, -0.1, 20 * km_per_hour};
  const double watts = 0.4 * braking_power(bike, piece)->brakes.in(watt);
  const auto way = rotor_way(rotor, bike, {piece});
  ASSERT_TRUE(way) << way.error().full();
  EXPECT_GT(way->moments.size(), 300u);
  for (const RotorMoment& moment : way->moments) {
    const double expected = 20 + watts / (60 * 0.03) * -std::expm1(-moment.seconds / (75 / 1.8));
    ASSERT_NEAR(moment.temperature_c, expected, 1e-6);
  }
  EXPECT_NEAR(way->moments.back().way.in(km), 2, 1e-9);
}

TEST(RotorHeat, KeepsItsBalanceOfEnergy) {
  Random random(83);
  const Rotor rotor{.mass = 120 * gram, .warn_at_c = 150};
  const DescendingBike bike{.whole = 110 * kg};
  for (int i = 0; i < 50; ++i) {
    std::vector<DescentPiece> way;
    for (int n = 0; n < 20; ++n) {
      way.push_back({(50 + 300 * random.uniform()) * metre, 0.05 - 0.2 * random.uniform(),
                     (10 + 40 * random.uniform()) * km_per_hour});
    }
    const auto went = rotor_way(rotor, bike, way);
    ASSERT_TRUE(went);
    const double stored = 60 * (went->moments.back().temperature_c - 20);
    ASSERT_NEAR(went->heated.in(joule), went->shed.in(joule) + stored, 1) << "seed 83, case " << i;
    ASSERT_EQ(went->too_hot.has_value(), went->hottest_c > 150) << "seed 83, case " << i;
    ASSERT_GE(went->moments.back().temperature_c, 20 - 1e-9) << "seed 83, case " << i;
  }
}

TEST(RotorHeat, IsNoLessWithMoreMassOrASteeperWay) {
  const Rotor rotor{.mass = 120 * gram};
  double before = 0;
  for (const double slope : {-0.02, -0.05, -0.08, -0.12}) {
    const auto way = rotor_way(rotor, {.whole = 100 * kg}, {{1 * km, slope, 25 * km_per_hour}});
    EXPECT_GE(way->hottest_c, before);
    before = way->hottest_c;
  }
  EXPECT_GT(rotor_way(rotor, {.whole = 150 * kg}, {{1 * km, -0.12, 25 * km_per_hour}})->hottest_c,
            before);
}

TEST(RotorHeat, TakesTheSpeedAwayAtTheJoint) {
  const DescendingBike bike{.whole = 100 * kg, .share = 1};
  const auto way = rotor_way(rotor_of(0, 0), bike,
                             {{10 * metre, 0, 36 * km_per_hour},
                              {10 * metre, 0, 18 * km_per_hour}});
  EXPECT_NEAR(way->heated.in(joule), 50 * (100 - 25), 1e-6);
  EXPECT_NEAR(way->hottest_c, 20 + 50 * 75 / 75.0, 1e-6);
}

TEST(RotorHeat, RefusesWhatCannotBe) {
  EXPECT_FALSE(rotor_way(rotor_of(60, 0), {.whole = 100 * kg}, {}));
  EXPECT_FALSE(rotor_way(rotor_of(60, 0), {.whole = 100 * kg}, {{1 * km, -0.6, 20 * km_per_hour}}));
  EXPECT_EQ(rotor_way(rotor_of(60, 0), {.whole = 100 * kg}, {{90 * km, -0.01, 1 * km_per_hour}})
                .error()
                .code,
            Code::kTooLarge);
  EXPECT_FALSE(steady_rotor_c(rotor_of(0, 0), 200 * watt, 0 * km_per_hour));
}

}  // namespace
}  // namespace rollwright::mech
