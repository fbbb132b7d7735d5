#include <algorithm>

#include <gtest/gtest.h>

#include "build/traits.hpp"
#include "build/values.hpp"
#include "build/worked_bike.hpp"

// Which tasks of the test ride a bike has, typed by hand from what a mechanic would ride with it.
namespace rollwright::build {
namespace {

using Ids = std::set<std::string>;

const Ids kEveryBike = {"ride_front_brake", "ride_rear_brake", "ride_figure_eight",
                        "tracks_straight", "stopping_distance", "ride_quiet", "ride_distance"};
const Ids kEBike = {"ride_assist_pedals", "ride_assist_levels", "ride_assist_ends"};

Ids tasks(const std::string& operation, const Ids& traits) {
  Ids ids;
  for (const trade::Reading& reading : shipped_trade().readings) {
    const bool is_here = std::ranges::count(reading.operations, operation) > 0;
    if (is_here && applies(reading.when, traits)) ids.insert(reading.id);
  }
  return ids;
}

Ids with(Ids ids, const Ids& more) {
  ids.insert(more.begin(), more.end());
  return ids;
}

TEST(TestRide, AsksOfADerailleurBikeWhatItsGearsDoUnderLoad) {
  EXPECT_EQ(tasks("T-40", {"shop_built", "chain", "derailleur", "front_derailleur",
                           "dynamo_lights", "disc_brakes", "region_eu"}),
            with(kEveryBike, {"ride_gears_derailleur", "ride_chainrings", "ride_dynamo_lights"}));
}

TEST(TestRide, AsksOfABeltEBikeWhatBeltGearsAndMotorDo) {
  const Ids bike = {"shop_built", "belt", "hub_gear", "e_bike", "mid_motor", "walk_aid",
                    "brake_cut_off", "assist_25", "region_eu", "suspension_fork", "dropper"};
  EXPECT_EQ(tasks("T-40", bike),
            with(with(kEveryBike, kEBike),
                 {"ride_belt", "ride_gears_hub", "ride_walk_aid", "ride_assist_brake",
                  "ride_suspension", "ride_dropper"}));
}

TEST(TestRide, AsksOfASingleSpeedForAHardStart) {
  EXPECT_EQ(tasks("T-40", {"shop_built", "chain"}), with(kEveryBike, {"ride_single_speed"}));
}

TEST(TestRide, HoldsTheWalkAidAgainstTheLawOfTheRegion) {
  EXPECT_TRUE(tasks("T-40", {"e_bike", "walk_aid", "region_eu"}).contains("ride_walk_aid"));
  const Ids us = tasks("T-40", {"e_bike", "walk_aid", "region_us"});
  EXPECT_FALSE(us.contains("ride_walk_aid"));
  EXPECT_TRUE(us.contains("ride_walk_aid_elsewhere"));
}

TEST(TestRide, AsksOfABikeWithALoadWhatTheLoadDoes) {
  EXPECT_EQ(tasks("T-45", {"shop_built", "cargo", "front_load_cargo", "two_leg_stand", "heavy"}),
            (Ids{"ballast", "ride_parking", "ride_steering_link", "ride_tail_wag",
                 "ride_loaded_stop"}));
  EXPECT_EQ(tasks("T-45", {"shop_built", "passenger_kit"}),
            (Ids{"ballast", "ride_passengers", "ride_tail_wag"}));
  EXPECT_EQ(tasks("T-45", {"shop_built", "heavy"}),
            (Ids{"ballast", "ride_tail_wag", "ride_loaded_stop"}));
}

TEST(TestRide, OfAMakersBikeHasTheSameTasksAndThoseOfItsLoad) {
  for (const Ids& traits : {Ids{"chain", "derailleur"}, Ids{"belt", "hub_gear", "e_bike"},
                            Ids{"e_bike", "cargo", "front_load_cargo", "heavy", "hub_gear"}}) {
    Ids ridden = tasks("N-85", traits);
    for (const char* at_a_stand : {"side_sample", "settled"}) ridden.erase(at_a_stand);
    EXPECT_EQ(ridden, with(tasks("T-40", traits), tasks("T-45", traits)));
  }
}

TEST(TestRide, IsJudgedTaskByTaskAndStoppedWhereSomebodyCouldFall) {
  for (const trade::Reading& reading : shipped_trade().readings) {
    if (!reading.id.starts_with("ride_") || reading.id == "ride_distance") continue;
    EXPECT_TRUE(reading.pass_or_fail || reading.unit == "km/h") << reading.id;
    const bool only_annoys = reading.id == "ride_quiet" || reading.id == "ride_dropper" ||
                             reading.id == "ride_dynamo_lights" ||
                             reading.id == "ride_assist_levels";
    EXPECT_EQ(reading.stop, !only_annoys) << reading.id;
  }
}

TEST(TestRide, IsHeavyFromHundredAndEightyKilogramsOn) {
  for (const auto& [permitted, heavy] : {std::pair{179.0, false}, {180.0, true}}) {
    WorkedBike bike = worked_bike();
    bike.put("frame", "K-FR", {{"permitted_total_mass", permitted}});
    const BikeTraits traits = traits_of(shipped_trade(), bike.facts(shipped_trade()));
    EXPECT_EQ(traits.holding.contains("heavy"), heavy) << permitted;
  }
}

TEST(TestRide, TakesAsBallastWhatIsLeftOrWhatTheRackCarries) {
  WorkedBike bike = worked_bike();
  const auto ballast = [&](double permitted) {
    bike.put("frame", "K-FR", {{"permitted_total_mass", permitted}, {"rack_load_max", 27.0},
                               {"layout", std::string("standard")}});
    const BikeFacts facts = bike.facts(shipped_trade());
    FactReader reader(shipped_trade(), facts);
    const auto value = calculations().at("rated_load")(reader);
    return value ? value->target : -1;
  };
  EXPECT_EQ(ballast(400), 27.0) << "the rack carries no more";
  const double less = ballast(110);
  EXPECT_TRUE(0 < less && less < 27.0) << less;
}

}  // namespace
}  // namespace rollwright::build
