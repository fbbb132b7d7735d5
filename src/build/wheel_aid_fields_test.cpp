#include <algorithm>

#include <gtest/gtest.h>

#include "build/aid_fields.hpp"
#include "build/values.hpp"
#include "build/worked_bike.hpp"

// All parts are invented (worked_bike.hpp).
namespace rollwright::build {
namespace {

AidFields wheel_fields(const WorkedBike& bike, const std::string& aid, const std::string& end) {
  const BikeFacts facts = bike.facts(shipped_trade());
  const auto fields = aid_fields(FactReader(shipped_trade(), facts), aid, end);
  EXPECT_TRUE(fields) << fields.error().full();
  return *fields;
}

std::string in_field(const AidFields& fields, const std::string& key) {
  const auto found = std::ranges::find(fields.filled, key, &AidField::key);
  return found == fields.filled.end() ? "not filled" : found->typed;
}

std::string asked_at(const AidFields& fields, const std::string& key) {
  const auto found = std::ranges::find(fields.questions, key, &AidQuestion::key);
  return found == fields.questions.end() ? "" : found->sentence;
}

double sheet_value(const WorkedBike& bike, const std::string& name) {
  const BikeFacts facts = bike.facts(shipped_trade());
  FactReader reader(shipped_trade(), facts);
  return calculations().at(name)(reader).value().target;
}

TEST(WheelAidFields, AreTheHubTheRimAndTheSpokesOfTheEndAskedFor) {
  const AidFields rear = wheel_fields(worked_bike(), "spoke-length", "rear");
  EXPECT_EQ(in_field(rear, "rim_diameter"), "602 mm");
  EXPECT_EQ(in_field(rear, "circle_left"), "45 mm");
  EXPECT_EQ(in_field(rear, "offset_right"), "18 mm");
  EXPECT_EQ(in_field(rear, "holes_left"), "16");
  EXPECT_EQ(in_field(rear, "crosses_right"), "3");
  EXPECT_EQ(in_field(rear, "rim_limit"), "1250 N");
  const AidFields front = wheel_fields(worked_bike(), "spoke-length", "front");
  EXPECT_EQ(in_field(front, "circle_left"), "38 mm");
  EXPECT_EQ(in_field(front, "offset_right"), "35 mm");
}

TEST(WheelAidFields, TensionsAreThoseOfTheBenchSheet) {
  const WorkedBike bike = worked_bike();
  const AidFields truing = wheel_fields(bike, "truing", "rear");
  EXPECT_NEAR(std::stod(in_field(truing, "tension_left")), sheet_value(bike, "tension_rear_left"),
              0.5);
  EXPECT_NEAR(std::stod(in_field(truing, "tension_right")), sheet_value(bike, "tension_rear_right"),
              0.5);
  EXPECT_EQ(in_field(truing, "most_lateral"), "0.5 mm");
  EXPECT_NE(asked_at(truing, "rim").find("stiffness is not known"), std::string::npos);
}

TEST(WheelAidFields, AFieldOfTheWheelThatIsNotKnownStandsEmptyAndIsAskedAbout) {
  for (const char* aid : {"spoke-length", "truing", "wheel-card"}) {
    WorkedBike bike = worked_bike();
    bike.parts.at(trade::SlotId("rear_rim")).facts.erase("erd");
    const AidFields fields = wheel_fields(bike, aid, "rear");
    EXPECT_EQ(in_field(fields, "rim_diameter"), "") << aid;
    EXPECT_NE(asked_at(fields, "rim_diameter").find("ERD"), std::string::npos) << aid;
  }
  WorkedBike bike = worked_bike();
  bike.parts.at(trade::SlotId("rear_rim")).facts.erase("rim_tension_max");
  const AidFields truing = wheel_fields(bike, "truing", "rear");
  EXPECT_EQ(in_field(truing, "tension_left"), "");
  EXPECT_EQ(in_field(truing, "highest"), "") << "no tension is advised over a limit nobody knows";
}

TEST(WheelAidFields, AWheelBoughtWholeIsAskedHowItWasLaced) {
  WorkedBike bike = worked_bike();
  for (const char* slot : {"rear_hub", "rear_rim", "rear_spokes"}) bike.take_out(slot);
  bike.put("rear_wheel", "K-WH",
           {{"spoke_count", 32.0}, {"spoke_head", word("J-bend")}, {"erd", 602.0},
            {"rim_offset", 0.0}, {"flange_diameter_left", 45.0}, {"flange_diameter_right", 45.0},
            {"flange_offset_left", 37.0}, {"flange_offset_right", 18.0},
            {"spoke_hole_diameter", 2.6}, {"rim_tension_max", 1250.0}});
  const AidFields truing = wheel_fields(bike, "truing", "rear");
  EXPECT_EQ(in_field(truing, "circle_left"), "45 mm");
  EXPECT_EQ(in_field(truing, "crosses_left"), "");
  EXPECT_NE(asked_at(truing, "crosses_left").find("count them"), std::string::npos);
}

TEST(WheelAidFields, StraightPullSpokesHaveTheirOwnAid) {
  WorkedBike bike = worked_bike();
  EXPECT_FALSE(wheel_fields(bike, "straight-pull", "rear").not_here.empty());
  bike.put("rear_hub", "K-HR", {{"spoke_head", word("straight-pull")}, {"spoke_count", 32.0}});
  EXPECT_TRUE(wheel_fields(bike, "straight-pull", "rear").not_here.empty());
  for (const char* aid : {"spoke-length", "truing", "wheel-card", "spoke-pitch", "spoke-sound"}) {
    EXPECT_NE(wheel_fields(bike, aid, "rear").not_here.find("straight-pull"), std::string::npos) << aid;
  }
}

TEST(WheelAidFields, TheSoundingPartIsThatOfTheTighterSide) {
  const AidFields fields = wheel_fields(worked_bike(), "spoke-pitch", "rear");
  // Three quarters of a spoke of 292.4 mm lie outside the crossing (75.84 %, by hand for this wheel).
  EXPECT_NEAR(std::stod(in_field(fields, "length")), 0.7584 * 293.7, 0.3);
  const auto length = std::ranges::find(fields.filled, "length", &AidField::key);
  EXPECT_NE(length->origin.find("right side"), std::string::npos) << length->origin;
}

TEST(WheelAidFields, TheCardKnowsTheOtherWheelAndHowSpokesCome) {
  WorkedBike bike = worked_bike();
  const AidFields fields = wheel_fields(bike, "wheel-card", "rear");
  // Both sides of the front wheel, derived in worked_bike.hpp.
  EXPECT_EQ(in_field(fields, "other_lengths"), "295.03 295.03");
  EXPECT_NE(asked_at(fields, "spokes_come"), "");
  bike.put("rear_spokes", "K-SK", {{"crosses", 3.0}, {"cut_to_length", true}});
  EXPECT_EQ(in_field(wheel_fields(bike, "wheel-card", "rear"), "spokes_come"), "cut to length here");
}

}  // namespace
}  // namespace rollwright::build
