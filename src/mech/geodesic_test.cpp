#include "mech/geodesic.hpp"

#include <gtest/gtest.h>

#include <GeographicLib/Geodesic.hpp>
#include <algorithm>
#include <cmath>
#include <string>

#include "base/random.hpp"
#include "mech/trials/checked.hpp"

namespace rollwright::mech {
namespace {

using trials::Tag;

struct PairRow {
  const char* name;
  const char* of;
  GroundPlace from, to;
  double metres;
};

// Rows 6.18 to 6.24. 6.18, 6.22 and 6.24 are published tests of geodesic programs; the others were
// derived with an independent program.
const PairRow kRows[] = {
    {"6.18", "across an ocean", {40.6, -73.8}, {51.6, -0.5}, 5551759.400319},
    {"6.19", "one degree of the equator", {0, 0}, {0, 1}, 111319.490793},
    {"6.20", "one degree of a meridian", {0, 0}, {1, 0}, 110574.388558},
    {"6.21", "one degree of longitude at 45°", {45, 0}, {45, 1}, 78846.334710},
    {"6.22", "pole to pole", {90, 0}, {-90, 0}, 20003931.458625},
    {"6.23", "across a street", {47.3769, 8.5417}, {47.3779, 8.5427}, 134.401191},
    {"6.24", "nearly opposite places", {-41.32, 174.81}, {40.96, -5.50}, 19959679.267354},
};

Tag tag_of(const std::string& row) {
  if (row == "6.24") return Tag::kFound;
  return row == "6.18" || row == "6.22" ? Tag::kFoundDerived : Tag::kDerived;
}

TEST(Geodesic, AgreesWithTheCheckValues) {
  for (const PairRow& row : kRows) {
    SCOPED_TRACE(row.name);
    const auto found = geodesic(row.from, row.to);
    ASSERT_TRUE(found);
    trials::expect_row({.row = row.name,
                        .of = std::string("shortest way: ") + row.of,
                        .unit = "m",
                        .expected = row.metres,
                        .tolerance = row.metres < 1e5 ? 1e-6 : 2e-4,
                        .ours = found->length.in(metre),
                        .tag = tag_of(row.name),
                        .source = "geodesic"});
    EXPECT_NEAR(geodesic_by_bisection(row.from, row.to)->length.in(metre), row.metres,
                row.metres < 1e5 ? 1e-5 : 2e-6);
  }
  trials::expect_row({.row = "6.18 azimuth",
                      .of = "azimuth at its start",
                      .unit = "°",
                      .expected = 51.198883,
                      .tolerance = 1e-6,
                      .ours = geodesic(kRows[0].from, kRows[0].to)->start_azimuth.in(degree),
                      .tag = Tag::kFoundDerived,
                      .source = "geodesic"});
}

TEST(Geodesic, OfAPlaceToItselfIsNothing) {
  EXPECT_EQ(geodesic({46, 14}, {46, 14})->length, Length{});
  EXPECT_EQ(geodesic({90, 14}, {90, 77})->length.in(metre), 0);
  EXPECT_NEAR(geodesic({10, 180}, {10, -180})->length.in(metre), 0, 1e-9);
}

TEST(Geodesic, RefusesPlacesThatAreNotOnTheGlobe) {
  EXPECT_EQ(geodesic({91, 0}, {0, 0}).error().code, Code::kOutOfRange);
  EXPECT_EQ(geodesic({0, 0}, {std::nan(""), 0}).error().code, Code::kOutOfRange);
}

double reference_metres(const GroundPlace& from, const GroundPlace& to) {
  double metres = 0;
  GeographicLib::Geodesic::WGS84().Inverse(from.latitude_deg, from.longitude_deg, to.latitude_deg,
                                           to.longitude_deg, metres);
  return metres;
}

TEST(Geodesic, AgreesWithASecondProgramAnywhere) {
  Random random(61);
  for (int i = 0; i < 3000; ++i) {
    const GroundPlace from{180 * random.uniform() - 90, 360 * random.uniform() - 180};
    GroundPlace to{180 * random.uniform() - 90, 360 * random.uniform() - 180};
    // A third of the pairs nearly opposite, a third close together.
    if (i % 3 == 1) to = {-from.latitude_deg, from.longitude_deg + 180};
    if (i % 3 == 2) to = from;
    if (i % 3 != 0) {
      to.latitude_deg = std::clamp(to.latitude_deg + random.uniform() - 0.5, -90.0, 90.0);
      to.longitude_deg = std::remainder(to.longitude_deg + random.uniform() - 0.5, 360);
    }
    const double expected = reference_metres(from, to);
    SCOPED_TRACE(testing::Message()
                 << "seed 61, case " << i << ": " << from.latitude_deg << "," << from.longitude_deg
                 << " to " << to.latitude_deg << "," << to.longitude_deg);
    EXPECT_NEAR(geodesic(from, to)->length.in(metre), expected, expected < 1e5 ? 1e-6 : 2e-4);
    EXPECT_NEAR(geodesic_by_bisection(from, to)->length.in(metre), expected, 2e-5);
  }
}

TEST(Geodesic, HoldsOnEquatorPolesAndMeridians) {
  const double latitudes[] = {-90, -45, -1e-9, 0, 1e-9, 30, 45, 90};
  const double longitudes[] = {-180, -90, 0, 1e-9, 90, 179, 179.4, 179.9, 180};
  for (const double a : latitudes) {
    for (const double b : latitudes) {
      for (const double turn : longitudes) {
        const GroundPlace from{a, 0};
        const GroundPlace to{b, turn};
        EXPECT_NEAR(geodesic(from, to)->length.in(metre), reference_metres(from, to), 2e-4)
            << a << " to " << b << ", " << turn;
      }
    }
  }
}

TEST(Geodesic, AzimuthsOfBothMethodsAgree) {
  Random random(62);
  for (int i = 0; i < 500; ++i) {
    const GroundPlace from{160 * random.uniform() - 80, 360 * random.uniform() - 180};
    const GroundPlace to{160 * random.uniform() - 80,
                         from.longitude_deg + 240 * random.uniform() - 120};
    double metres = 0, start = 0, end = 0;
    GeographicLib::Geodesic::WGS84().Inverse(from.latitude_deg, from.longitude_deg, to.latitude_deg,
                                             to.longitude_deg, metres, start, end);
    EXPECT_NEAR(geodesic(from, to)->start_azimuth.in(degree), start, 1e-6) << "seed 62, case " << i;
    EXPECT_NEAR(geodesic_by_bisection(from, to)->start_azimuth.in(degree), start, 1e-6)
        << "seed 62, case " << i;
  }
}

}  // namespace
}  // namespace rollwright::mech
