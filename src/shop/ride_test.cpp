#include "shop/ride.hpp"

#include <gtest/gtest.h>

#include "shop/state.hpp"

// The ways of these tests are invented.
namespace rollwright::shop {
namespace {

/// From the coast straight up a hill of 100 m, a point each 10 m of height; with `back` down again.
std::string hill(bool back) {
  std::string points;
  const auto add = [&points](int step) {
    points += "<trkpt lat=\"" + std::to_string(54 + step * 0.002) +
              "\" lon=\"-32\"><ele>" + std::to_string(step * 10) + "</ele></trkpt>\n";
  };
  for (int step = 0; step <= 10; ++step) add(step);
  if (back) {
    for (int step = 9; step >= 0; --step) add(step);
  }
  return "<gpx version=\"1.1\"><trk><trkseg>\n" + points + "</trkseg></trk></gpx>";
}

TEST(Ride, IsRiddenThereAndBackUnlessItEndsAtHome) {
  const auto there = ride_of(hill(false), "hill");
  const auto round = ride_of(hill(true), "round");
  ASSERT_TRUE(there);
  ASSERT_TRUE(round);
  // 0.02 degrees of latitude are 2.2 km (111.3 km a degree there, WGS 84).
  EXPECT_NEAR(round->length.in(km), 4.45, 0.02);
  EXPECT_NEAR(there->length.in(km), round->length.in(km), 0.001);
  EXPECT_NEAR(there->climb.in(metre), round->climb.in(metre), 6);
  EXPECT_NEAR(there->climb.in(metre), 100, 6);
}

TEST(Ride, IsNotKnownWithoutHeightsOrForAFileThatCannotBeRead) {
  EXPECT_FALSE(ride_of("no gpx", "x"));
  EXPECT_FALSE(ride_of("<gpx version=\"1.1\"><trk><trkseg><trkpt lat=\"1\" lon=\"1\"/>"
                       "<trkpt lat=\"2\" lon=\"2\"/></trkseg></trk></gpx>",
                       "x"));
  trade::ShopFiles files;
  files.routes = {{"hill", hill(false)}, {"nonsense", "no gpx"}};
  const auto state = make_state(files, 1);
  EXPECT_TRUE(state->all_else->ride("hill"));
  EXPECT_EQ(state->all_else->ride("hill")->climb, state->all_else->ride("hill")->climb);
  EXPECT_FALSE(state->all_else->ride("nonsense"));
  EXPECT_FALSE(state->all_else->ride("nowhere"));
}

}  // namespace
}  // namespace rollwright::shop
