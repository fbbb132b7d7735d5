#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <string>

#include "mech/chain.hpp"
#include "mech/geodesic.hpp"
#include "mech/joint_torque.hpp"
#include "mech/spoke_pitch.hpp"
#include "mech/trials/checked.hpp"

// Approximations that handbooks and the trade use in place of what this room calculates: each is
// held to its check value, and ours to it within what the approximation is known to miss.

namespace rollwright::mech {
namespace {

using trials::CheckedRow;
using trials::expect_rows;

/// Great circle on a sphere of the mean radius. Source: [geodesic].
double sphere_metres(const GroundPlace& from, const GroundPlace& to) {
  constexpr double kRadius = 6371008.8;
  const auto radians = [](double degrees) { return degrees * std::numbers::pi / 180; };
  const double north = std::sin(radians(to.latitude_deg - from.latitude_deg) / 2);
  const double east = std::sin(radians(to.longitude_deg - from.longitude_deg) / 2);
  const double chord = north * north + std::cos(radians(from.latitude_deg)) *
                                           std::cos(radians(to.latitude_deg)) * east * east;
  return 2 * kRadius * std::asin(std::sqrt(chord));
}

struct SphereRow {
  const char* row;
  const char* of;
  GroundPlace from, to;
  double metres, tolerance;
};
constexpr SphereRow kSphere[] = {
    {"6.18 sphere", "across an ocean", {40.6, -73.8}, {51.6, -0.5}, 5536891.987, 0.001},
    {"6.19 sphere", "one degree of the equator", {0, 0}, {0, 1}, 111195.080, 0.001},
    {"6.20 sphere", "one degree of a meridian", {0, 0}, {1, 0}, 111195.080, 0.001},
    {"6.21 sphere", "one degree of longitude at 45°", {45, 0}, {45, 1}, 78626.296, 0.001},
    {"6.22 sphere", "pole to pole", {90, 0}, {-90, 0}, 20015114.442, 0.001},
    {"6.23 sphere", "across a street", {47.3769, 8.5417}, {47.3779, 8.5427}, 134.291, 0.001},
};

TEST(ShortRules, OfASphereMissTheEllipsoidByLittleMoreThanHalfAPerCent) {
  for (const SphereRow& row : kSphere) {
    SCOPED_TRACE(row.row);
    const double sphere = sphere_metres(row.from, row.to);
    expect_rows({.unit = "m", .source = "geodesic"},
                {{row.row, std::string("on a sphere: ") + row.of, row.metres, row.tolerance,
                  sphere}});
    EXPECT_NEAR(geodesic(row.from, row.to)->length.in(metre) / sphere, 1, 0.0057);
  }
}

struct SeriesRow {
  const char* row;
  const char* of;
  double tension_n, length_mm, diameter_mm, hz;
};
constexpr SeriesRow kSeries[] = {
    {"3.1 series", "290 mm of 2.0 mm at 1000 N", 1000, 290, 2.0, 382.99},
    {"3.2 series", "290 mm of 1.8 mm at 1000 N", 1000, 290, 1.8, 416.99},
    {"3.3 series", "290 mm of 2.0 mm at 500 N", 500, 290, 2.0, 283.70},
    {"3.4 series", "290 mm of 2.0 mm at 1200 N", 1200, 290, 2.0, 415.62},
    {"3.5 series", "200 mm of 2.0 mm at 1000 N", 1000, 200, 2.0, 584.18},
    {"3.6 series", "290 mm of 1.8 mm at 1200 N", 1200, 290, 1.8, 453.45},
};

/// Clamped ends by three terms of a series in the bending length. Source: [spoke-pitch].
double series_hertz(const SeriesRow& row, double string_hertz) {
  const double second_moment = std::numbers::pi / 64 * std::pow(row.diameter_mm / 1000, 4);
  const double bending = std::sqrt(200e9 * second_moment / row.tension_n) / (row.length_mm / 1000);
  constexpr double kSquare = 4 + std::numbers::pi * std::numbers::pi / 2;
  return string_hertz * (1 + 2 * bending + kSquare * bending * bending);
}

TEST(ShortRules, OfAClampedSpokeByThreeTermsLieBelowTheExactPitch) {
  for (const SeriesRow& row : kSeries) {
    SCOPED_TRACE(row.row);
    const auto pitch = [&](SpokeEndsHeld ends) {
      return spoke_pitch({.length = row.length_mm * mm, .diameter = row.diameter_mm * mm,
                          .ends = ends}, row.tension_n * newton)->in(hertz);
    };
    const double series = series_hertz(row, pitch(SpokeEndsHeld::kString));
    expect_rows({.unit = "Hz", .source = "spoke-pitch"},
                {{row.row, std::string("by three terms: ") + row.of, row.hz, 0.02, series}});
    const double exact = pitch(SpokeEndsHeld::kClamped);
    EXPECT_LT(series, exact);
    EXPECT_NEAR(series / exact, 1, 0.005);
  }
}

struct CentreRow {
  const char* row;
  const char* of;
  double links, large, small, mm, tolerance;
};
constexpr CentreRow kCentres[] = {
    {"4.16 formula", "48 × 18 with 102 links", 102, 48, 18, 433.913, 0.0006},
    {"4.17 formula", "44 × 16 with 100 links", 100, 44, 16, 440.87, 0.006},
};

TEST(ShortRules, OfAChainsCentreDistanceAgreeWithTheExactOne) {
  for (const CentreRow& row : kCentres) {
    SCOPED_TRACE(row.row);
    const double straight = row.links - (row.large + row.small) / 2;
    const double step = (row.large - row.small) / (2 * std::numbers::pi);
    const double centre = 12.7 / 4 * (straight + std::sqrt(straight * straight - 8 * step * step));
    expect_rows({.unit = "mm", .source = "chain-length"},
                {{row.row, std::string("centre distance by the formula: ") + row.of, row.mm,
                  row.tolerance, centre}});
    const auto exact = chain_centre_distance(static_cast<int>(row.large),
                                             static_cast<int>(row.small),
                                             static_cast<int>(row.links));
    EXPECT_NEAR(exact->in(mm), centre, 0.02);
  }
}

TEST(ShortRules, OfTensionBalanceByOffsetsAloneAreOneToTwoPerCentLow) {
  expect_rows({.source = "tension-balance"},
              {{"1.16 simple", "flange offsets alone: 18 and 37 mm", 0.4865, 0.0001, 18.0 / 37},
               {"1.17 simple", "the same, nipples 3 mm to the left", 0.6176, 0.0001,
                (18.0 + 3) / (37.0 - 3)}});
}

TEST(ShortRules, OfANutFactorOfAFifthGiveLessPreloadThanFrictionDoes) {
  const double preload_kn = 5.0 / (0.2 * 0.005) / 1000;
  expect_rows({.unit = "kN", .source = "bolt-torque"},
              {{"7.9 nut factor", "M5 at 5 N m with a nut factor of 0.2", 5.0, 0.05, preload_kn}});
}

}  // namespace
}  // namespace rollwright::mech
