#include "build/values.hpp"

#include <algorithm>

#include <gtest/gtest.h>

#include "build/worked_bike.hpp"
#include "trade/rule_calculations.hpp"

namespace rollwright::build {
namespace {

struct Answer {
  std::optional<ComputedValue> value;
  std::vector<std::string> questions;
};

Answer answer(const WorkedBike& bike, const std::string& name) {
  const BikeFacts facts = bike.facts(shipped_trade());
  FactReader reader(shipped_trade(), facts);
  std::optional<ComputedValue> value = calculations().at(name)(reader);
  return {std::move(value), reader.questions()};
}

double target(const WorkedBike& bike, const std::string& name) {
  const Answer given = answer(bike, name);
  EXPECT_TRUE(given.value.has_value()) << name;
  for (const std::string& question : given.questions) ADD_FAILURE() << name << ": " << question;
  return given.value ? given.value->target : -1;
}

WorkedBike belt_bike() {
  WorkedBike bike = worked_bike();
  bike.take_out("chain");
  bike.take_out("cassette");
  bike.put("chainring", "K-RG", {{"teeth", 50.0}});
  bike.put("rear_sprocket", "K-RS", {{"teeth", 22.0}, {"mass", 0.1}});
  bike.put("belt", "K-BE",
           {{"belt_teeth", 113.0}, {"pitch", 11.0}, {"belt_frequency_min", 50.0},
            {"belt_frequency_max", 60.0}, {"mass", 0.087}});
  return bike;
}

TEST(Values, SpokeLengthsAreThoseOfTheWorkedWheel) {
  const WorkedBike bike = worked_bike();
  // Derived by the law of cosines for this geometry (see worked_bike.hpp), to 0.001 mm.
  EXPECT_NEAR(target(bike, "spoke_length_rear_right"), 292.380, 0.001);
  EXPECT_NEAR(target(bike, "spoke_length_rear_left"), 294.154, 0.001);
  EXPECT_NEAR(target(bike, "spoke_length_front_left"), 295.027, 0.001);
  EXPECT_NEAR(target(bike, "spoke_length_front_right"), 295.027, 0.001);
}

TEST(Values, AnOffsetRimMovesTheNipplesToTheSideItsFactSays) {
  WorkedBike bike = worked_bike();
  bike.put("rear_rim", "K-RI", {{"rim_offset", -3.0}});  // spoke bed 3 mm to the left
  EXPECT_NEAR(target(bike, "spoke_length_rear_right"), 292.579, 0.001);  // derived
  EXPECT_NEAR(target(bike, "spoke_length_rear_left"), 293.793, 0.001);   // derived
  EXPECT_NEAR(target(bike, "tension_share_rear"), 62.02, 0.01);          // derived
}

TEST(Values, TensionsBalanceOverTheHubAndKeepEverySpokeUnderTheRimsLimit) {
  WorkedBike bike = worked_bike();
  const double left = target(bike, "tension_rear_left");
  const double right = target(bike, "tension_rear_right");
  EXPECT_NEAR(left / right, 0.4894, 0.0001);  // derived from the bracing angles of this wheel
  EXPECT_NEAR(right, 1125, 1e-6);             // middle of the handbook's 1000 to 1250 N
  EXPECT_NEAR(target(bike, "tension_tight_rear"), right, 1e-9);
  bike.put("rear_rim", "K-RI", {{"rim_tension_max", 1000.0}});
  EXPECT_NEAR(target(bike, "tension_rear_right"), 1000 / 1.1, 1e-6);
}

TEST(Values, AskWhenTheOrderedSpokesAreNotThoseOfTheWheel) {
  WorkedBike bike = worked_bike();
  bike.put("rear_spokes", "K-SK", {{"spoke_length_left", 290.0}});
  const Answer given = answer(bike, "spoke_length_rear_left");
  ASSERT_EQ(given.questions.size(), 1u);
  EXPECT_NE(given.questions[0].find("290"), std::string::npos);
  EXPECT_NE(given.questions[0].find("294.2"), std::string::npos);
}

TEST(Values, AskInsteadOfComputingStraightPullSpokesOrUnequalHoles) {
  WorkedBike straight = worked_bike();
  straight.put("rear_hub", "K-HR", {{"spoke_head", word("straight-pull")}});
  EXPECT_FALSE(answer(straight, "spoke_length_rear_left").value.has_value());
  WorkedBike unequal = worked_bike();
  unequal.put("rear_rim", "K-RI", {{"spoke_count", 36.0}});
  const Answer given = answer(unequal, "spoke_length_rear_left");
  EXPECT_FALSE(given.value.has_value());
  EXPECT_EQ(given.questions.size(), 1u);
}

TEST(Values, TyrePressureFollowsTheAxleAndStaysInsideTheMarks) {
  WorkedBike bike = worked_bike();
  const double front = target(bike, "tyre_pressure_front");
  const double rear = target(bike, "tyre_pressure_rear");
  EXPECT_LT(front, rear);
  EXPECT_GE(front, 2.5);
  EXPECT_LE(rear, 5.0);
  bike.put("rear_rim", "K-RI", {{"pressure_max", 2.8}});
  EXPECT_DOUBLE_EQ(target(bike, "tyre_pressure_rear"), 2.8);
}

TEST(Values, CircumferenceSteererSaddleAndChainMatchTheirWorkedExamples) {
  const WorkedBike bike = worked_bike();
  EXPECT_NEAR(target(bike, "wheel_circumference"), 2205.4, 0.05);  // pi (622 + 80), derived
  EXPECT_DOUBLE_EQ(target(bike, "steerer_cut"), 3 + 150 + 9 + 30 + 40 - 2.5);
  EXPECT_NEAR(target(bike, "saddle_height"), 724.1, 0.05);       // inseam 82 cm: 72.41 cm
  EXPECT_NEAR(target(bike, "saddle_over_pedal"), 893.8, 0.05);   // 89.38 cm (Hamley, Thomas 1967)
  EXPECT_EQ(target(bike, "chain_links"), 114);  // 32/51, 440 mm: 57 inches by the chain rule
}

TEST(Values, BeltFrequencyIsTheMiddleOfItsPrintAndSaysTheForce) {
  const WorkedBike bike = belt_bike();
  EXPECT_DOUBLE_EQ(target(bike, "belt_frequency"), 55);
  // 0.087 kg / 1.243 m = 0.0700 kg/m, span 417.77 mm: 4 m s^2 f^2 = 147.8 N (derived).
  const Answer given = answer(bike, "belt_frequency");
  EXPECT_NE(given.value->how.find("148 N"), std::string::npos) << given.value->how;
}

TEST(Values, AssistEndsWhereTheOrdersClassSays) {
  WorkedBike bike = worked_bike();
  bike.order.need.assist_class = "25 km/h";
  EXPECT_NEAR(target(bike, "assist_limit") * 3.6, 25, 1e-9);
  EXPECT_NEAR(*answer(bike, "assist_limit").value->most * 3.6, 27.5, 1e-9);  // EN 15194, 10 %
  bike.order.need.assist_class = "class 3";
  EXPECT_NEAR(target(bike, "assist_limit") * 3.6, 45.06, 0.005);  // 28 mph
  bike.order.need.assist_class = "";
  EXPECT_FALSE(answer(bike, "assist_limit").value.has_value());
}

TEST(Values, AreNeverGivenOverAFactThatIsNotKnown) {
  for (const WorkedBike& whole : {worked_bike(), belt_bike()}) {
    for (const auto& [name, calculation] : calculations()) {
      const Answer before = answer(whole, name);
      for (const auto& [slot, part] : whole.parts) {
        for (const auto& [attribute, fact] : part.facts) {
          WorkedBike blank = whole;
          blank.parts.at(slot).facts.at(attribute).standing = trade::Standing::kNotKnown;
          const Answer after = answer(blank, name);
          const std::string what = name + " without " + slot.text + "." + attribute;
          if (after.value) {
            ASSERT_TRUE(before.value.has_value()) << what;
            EXPECT_EQ(after.value->target, before.value->target) << what;
            EXPECT_EQ(after.value->most, before.value->most) << what;
          } else {
            EXPECT_FALSE(after.questions.empty()) << what;
          }
        }
      }
    }
  }
}

TEST(Values, EveryCalculationOfTheShippedReadingsIsInTheTable) {
  int used = 0;
  for (const trade::Reading& reading : shipped_trade().readings) {
    if (reading.compute.empty()) continue;
    ++used;
    EXPECT_TRUE(calculations().contains(reading.compute)) << reading.id;
  }
  EXPECT_GE(used, 20);
}

TEST(Values, AreThoseThatTheLoaderLetsReadingsName) {
  EXPECT_EQ(trade::reading_calculations().size(), calculations().size());
  for (const trade::ReadingCalculation& row : trade::reading_calculations()) {
    EXPECT_TRUE(calculations().contains(std::string(row.name))) << row.name;
  }
}

}  // namespace
}  // namespace rollwright::build
