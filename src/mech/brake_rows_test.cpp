#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "mech/brake_force.hpp"
#include "mech/rotor_heat.hpp"
#include "mech/stopping.hpp"
#include "mech/trials/checked.hpp"

// The check values of braking.

namespace rollwright::mech {
namespace {

using trials::CheckedRow;
using trials::expect_rows;
using trials::Tag;

TEST(Stopping, NamesTheDecelerationBehindTheTests) {
  struct Row {
    const char* of;
    double kmh, way_m, mps2;
  };
  const CheckedRow shared = {.unit = "m/s²", .source = "brake-tests"};
  for (const Row& row : {Row{"25 km/h and 7 m", 25, 7, 3.445},
                         {"25 km/h and 6 m", 25, 6, 4.019},
                         {"25 km/h and 15 m", 25, 15, 1.608},
                         {"25 km/h and 12 m", 25, 12, 2.009},
                         {"25 km/h and 10 m", 25, 10, 2.411},
                         {"16 km/h and 5 m", 16, 5, 1.975},
                         {"16 km/h and 10 m", 16, 10, 0.988},
                         {"24.14 km/h and 4.57 m", 24.14, 4.57, 4.920},
                         {"16.09 km/h and 4.57 m", 16.09, 4.57, 2.186}}) {
    const std::string number = row.way_m == 4.57 ? "8.2 " : "8.1 ";
    expect_rows(shared, {{number + row.of, std::string("deceleration behind ") + row.of, row.mps2,
                          0.0006, *deceleration_over(row.kmh * km_per_hour, row.way_m * metre)}});
  }
}

TEST(BrakeForce, CarriesAReadingToTheHandForceMeant) {
  expect_rows({.unit = "N", .tag = Tag::kFoundDerived, .source = "brake-tests"},
              {{"8.3", "225 N read at 184 N by hand, carried to 180 N", 220.1, 0.05,
                corrected_brake_reading(225 * newton, 184 * newton, 180 * newton)->in(newton)}});
}

TEST(Stopping, AgreesWithTheDerivedWays) {
  const auto way = [](double kmh, double reaction_s, double mps2) {
    return stopping_distance(kmh * km_per_hour, reaction_s, mps2)->whole.in(metre);
  };
  expect_rows({.unit = "m", .source = "braking"},
              {{"8.4 at 25 km/h", "stopping from 25 km/h, 1 s, 5 m/s²", 11.77, 0.005,
                way(25, 1, 5)},
               {"8.4 late", "stopping from 25 km/h, 1.5 s, 3.5 m/s²", 17.31, 0.005,
                way(25, 1.5, 3.5)},
               {"8.4 at 45 km/h", "stopping from 45 km/h, 1 s, 5 m/s²", 28.13, 0.005,
                way(45, 1, 5)},
               {"8.5", "braking from 25 km/h at half of gravity, V² / 254 f", 4.92, 0.005,
                way(25, 0, 0.5 * 9.80665)}});
}

/// Hardest braking of a bike whose centre of mass lies so far behind the front wheel and so high.
double hardest(double behind_m, double height_m, double wheelbase_m, double grip, Braked braked) {
  const auto found = hardest_braking({.whole = 100 * kg,
                                      .wheelbase = wheelbase_m * metre,
                                      .centre_behind_front = behind_m * metre,
                                      .centre_height = height_m * metre,
                                      .grip = grip,
                                      .braked = braked});
  EXPECT_TRUE(found) << found.error().full();
  return found ? found->most_mps2 : std::nan("");
}

TEST(Braking, AgreesWithTheLimitsOfTipping) {
  const Braked both = Braked::kBoth;
  expect_rows({.unit = "m/s²", .source = "braking"},
              {{"8.6 low", "tipping over, centre of mass 0.60 m behind and 1.10 m up", 5.35, 0.005,
                hardest(0.60, 1.10, 1.02, 1.2, both)},
               {"8.6 high", "the same, 0.65 m behind and 1.15 m up", 5.54, 0.005,
                hardest(0.65, 1.15, 1.05, 1.2, both)},
               {"8.6 long", "the same, 0.90 m behind and 1.00 m up", 8.83, 0.005,
                hardest(0.90, 1.00, 1.90, 1.2, both)},
               {"8.7", "rear brake alone, grip 0.8, wheelbase 1.02 m", 2.477, 0.0006,
                hardest(0.6, 1.1, 1.02, 0.8, Braked::kRearOnly)}});
}

// 150 g of steel in air that carries off h = 60 W/(m² K) whatever the speed.
Rotor shop_rotor(double h, double emissivity) {
  return {.mass = 150 * gram,
          .emissivity = emissivity,
          .air_still_w_per_m2_k = h,
          .air_per_mps_w_per_m2_k = 0};
}

TEST(RotorHeat, AgreesWithTheDerivedPower) {
  const DescendingBike bike{.whole = 100 * kg, .drag_area_m2 = 0.4};
  const auto power = braking_power(bike, {1 * km, -0.1, 20 * km_per_hour});
  ASSERT_TRUE(power);
  expect_rows({.unit = "W", .source = "braking"},
              {{"8.8 slope", "100 kg down 10 % at 20 km/h: by the slope", 542.1, 0.05,
                power->slope.in(watt)},
               {"8.8 brakes", "the same, left to the brakes", 468.4, 0.05,
                power->brakes.in(watt)}});
}

TEST(RotorHeat, AgreesWithTheDerivedTemperatures) {
  const Rotor rotor = shop_rotor(60, 0);
  expect_rows({.unit = "K", .tag = Tag::kFoundDerived, .source = "rotor-heat"},
              {{"8.9 at 5000 J", "rise of 150 g of steel by 5000 J", 66.7, 0.05,
                *rotor_rise_k(rotor, 5000 * joule)},
               {"8.9 at 9751 J", "the same by 9751 J", 130, 0.5,
                *rotor_rise_k(rotor, 9751 * joule)}});
  const auto steady = [](double h, double emissivity, double watts) {
    return *steady_rotor_c(shop_rotor(h, emissivity), watts * watt, 0 * km_per_hour);
  };
  expect_rows({.unit = "°C", .source = "rotor-heat"},
              {{"8.10 at 200 W", "rotor at 200 W for long, h 60, no radiation", 131.1, 0.05,
                steady(60, 0, 200)},
               {"8.10 at 200 W, grey", "the same, emissivity 0.3", 126.0, 0.05,
                steady(60, 0.3, 200)},
               {"8.10 at 350 W", "rotor at 350 W for long, h 80, no radiation", 165.8, 0.05,
                steady(80, 0, 350)},
               {"8.10 at 350 W, grey", "the same, emissivity 0.3", 159.9, 0.06,
                steady(80, 0.3, 350)}});
}

TEST(RotorHeat, NearsItsEndWithTheDerivedTime) {
  // The time constant is read off a constant descent: T - Ta = end (1 - exp(-t / tau)).
  const Rotor rotor = shop_rotor(60, 0);
  const DescendingBike bike{.whole = 100 * kg, .share = 0.4};
  const DescentPiece piece{0.5 * km, -0.1, 20 * km_per_hour};
  const auto way = rotor_way(rotor, bike, {piece});
  ASSERT_TRUE(way);
  const Power heating = 0.4 * braking_power(bike, piece)->brakes;
  const double end = *steady_rotor_c(rotor, heating, 0 * km_per_hour) - 20;
  const RotorMoment& last = way->moments.back();
  expect_rows({.unit = "s", .source = "rotor-heat"},
              {{"8.11", "time constant of the rotor at h 60, m c / h A", 41.7, 0.05,
                -last.seconds / std::log(1 - (last.temperature_c - 20) / end)}});
}

}  // namespace
}  // namespace rollwright::mech
