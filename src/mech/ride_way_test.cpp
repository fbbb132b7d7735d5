#include "mech/ride_way.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "mech/geodesic.hpp"

// The routes are invented.

namespace rollwright::mech {
namespace {

std::vector<RoutePoint> northwards(double from, int points, double rise) {
  std::vector<RoutePoint> segment;
  for (int i = 0; i < points; ++i) {
    segment.push_back({from + 0.0005 * i, 14, (300 + rise * i) * metre, i + 1});
  }
  return segment;
}

TEST(RideWay, CutsARouteIntoPiecesWithSlopeAndHeading) {
  const Route route{RouteKind::kTrack, "", {northwards(46, 60, 2)}};
  const auto way = ride_way(route);
  ASSERT_TRUE(way) << way.error().full();
  Length sum, rise;
  for (const RidePiece& piece : way->pieces) {
    EXPECT_LE(piece.way, 20 * metre + 1e-6 * metre);
    EXPECT_NEAR(piece.rise / piece.way, 2 / 55.59, 1e-4);
    EXPECT_NEAR(piece.heading_deg, 0, 1e-6);
    sum += piece.way;
    rise += piece.rise;
  }
  EXPECT_NEAR(sum.in(metre), figures_of(route)->length.in(metre), 1e-6);
  EXPECT_NEAR(rise.in(metre), 118, 1e-6);
}

TEST(RideWay, HeadsAsTheGeodesicDoesAndKnowsThinAir) {
  Route route{RouteKind::kTrack, "", {{}}};
  for (int i = 0; i < 20; ++i) {
    route.segments[0].push_back({46 + 0.0003 * i, 14 + 0.0005 * i, 1000 * metre, i + 1});
  }
  const auto azimuth = geodesic({46, 14}, {46.0003, 14.0005})->start_azimuth.in(degree);
  const auto way = ride_way(route);
  ASSERT_TRUE(way);
  for (const RidePiece& piece : way->pieces) {
    EXPECT_NEAR(piece.heading_deg, azimuth, 0.2);  // a flat earth that is round: 0.3 %
    EXPECT_NEAR(piece.pressure_share, 89875.0 / 101325, 1e-5);  // row 6.12
  }
}

TEST(RideWay, RidesNothingAcrossAGap) {
  const Route route{RouteKind::kTrack, "", {northwards(46, 20, 1), northwards(47, 20, 1)}};
  const auto way = ride_way(route);
  ASSERT_TRUE(way);
  EXPECT_NEAR(way->length.in(metre), figures_of(route)->length.in(metre), 1e-6);
  int anew = 0;
  for (const RidePiece& piece : way->pieces) anew += piece.starts_anew ? 1 : 0;
  EXPECT_EQ(anew, 2);
}

TEST(RideWay, FillsShortHolesOfHeightAndRefusesLongOnes) {
  Route route{RouteKind::kTrack, "", {northwards(46, 60, 2)}};
  for (int i = 20; i < 25; ++i) route.segments[0][static_cast<std::size_t>(i)].elevation.reset();
  auto way = ride_way(route);
  ASSERT_TRUE(way) << way.error().full();
  EXPECT_EQ(way->heights_filled, 5);
  EXPECT_NEAR(way->pieces[70].rise / way->pieces[70].way, 2 / 55.59, 1e-4);
  for (int i = 20; i < 40; ++i) route.segments[0][static_cast<std::size_t>(i)].elevation.reset();
  way = ride_way(route);
  EXPECT_EQ(way.error().code, Code::kBadInput);
  EXPECT_EQ(way.error().place.line, 21);
  for (RoutePoint& point : route.segments[0]) point.elevation.reset();
  EXPECT_EQ(ride_way(route).error().code, Code::kBadInput);
  EXPECT_EQ(ride_way({}).error().code, Code::kNotFound);
}

TEST(RideWay, CrossesTheLineWhereTheDayChanges) {
  Route route{RouteKind::kTrack, "", {{}}};
  for (int i = 0; i < 20; ++i) {
    const double longitude = std::remainder(179.995 + 0.0005 * i, 360);
    route.segments[0].push_back({10, longitude, 5 * metre, i + 1});
  }
  const auto way = ride_way(route);
  ASSERT_TRUE(way);
  for (const RidePiece& piece : way->pieces) EXPECT_NEAR(piece.heading_deg, 90, 1e-6);
}

TEST(RideWay, ThereAndBackEndsWhereItBegan) {
  const Route route{RouteKind::kTrack, "", {northwards(46, 20, 1), northwards(46.1, 20, 1)}};
  const auto way = ride_way(route);
  const RideWay both = there_and_back(*way);
  ASSERT_EQ(both.pieces.size(), 2 * way->pieces.size());
  EXPECT_EQ(both.length, 2 * way->length);
  Length rise;
  int anew = 0;
  for (const RidePiece& piece : both.pieces) {
    rise += piece.rise;
    anew += piece.starts_anew ? 1 : 0;
  }
  EXPECT_NEAR(rise.in(metre), 0, 1e-9);
  EXPECT_EQ(anew, 4) << "both gaps, the start, and the turn";
  EXPECT_NEAR(std::fabs(both.pieces.back().heading_deg), 180, 1e-6);
}

TEST(RideWay, TellsWhereHeightsAreTooSteepForARoad) {
  const Route route{RouteKind::kTrack, "", {northwards(46, 40, 25)}};
  const auto way = ride_way(route);
  EXPECT_NEAR(way->too_steep.in(metre), way->length.in(metre), 1e-6);
  EXPECT_EQ(ride_way({RouteKind::kTrack, "", {northwards(46, 40, 2)}})->too_steep, Length{});
}

}  // namespace
}  // namespace rollwright::mech
