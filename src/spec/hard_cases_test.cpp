#include <gtest/gtest.h>

#include <algorithm>

#include "spec/choices.hpp"
#include "spec/evaluate.hpp"
#include "trade/order_facts.hpp"
#include "trade/load_trade.hpp"

// Cases that shops get wrong, put to the trade's own rules. The parts are invented; that such pairs
// clash is common practice of the trade.

namespace rollwright::spec {
namespace {

using trade::SlotId;
using trade::Value;
using trade::Verdict;
using Facts = std::map<std::string, Value>;

const trade::LoadedTrade& loaded() {
  static const trade::LoadedTrade kLoaded = trade::load_trade(ROLLWRIGHT_ROOT "/data/trade");
  return kLoaded;
}

class HardCase : public ::testing::Test {
 protected:
  void SetUp() override {
    ASSERT_TRUE(loaded().problems.empty()) << loaded().problems.front().full();
  }

  void put(const std::string& slot, const Facts& facts) {
    trade::Part& part = parts_[slot];
    part.id = trade::PartId(slot);
    part.name = "The " + slot;
    for (const auto& [attribute, value] : facts) {
      part.facts[attribute] = {.standing = trade::Standing::kKnown, .value = value};
    }
    bike_.parts[SlotId(slot)] = &part;
  }

  /// The worst that the rules with this number say, all their ends and variants; asks that at least
  /// one of them applies.
  Outcome worst(const std::string& id) {
    Outcome worst;
    bool applied = false;
    for (const trade::Rule& rule : loaded().trade.rules) {
      if (rule.id != id) continue;
      Outcome outcome = evaluate(loaded().trade, rule, bike_);
      applied |= outcome.applies;
      if (outcome.verdict >= worst.verdict) worst = std::move(outcome);
    }
    EXPECT_TRUE(applied) << id << " has nothing to say";
    return worst;
  }

  std::map<std::string, trade::Part> parts_;
  Bike bike_;
};

TEST_F(HardCase, ForkWithThirtyMillimetreCrownTakesAReducingRaceButNotTheOtherWay) {
  put("fork", {{"crown_seat_diameter", 30.0}});
  put("headset", {{"lower_crown_diameter", 39.8}});
  EXPECT_EQ(worst("C-003").verdict, Verdict::kFitsWith);
  EXPECT_FALSE(worst("C-003").adapter.empty());
  put("fork", {{"crown_seat_diameter", 39.8}});
  put("headset", {{"lower_crown_diameter", 30.0}});
  EXPECT_EQ(worst("C-003").verdict, Verdict::kDoesNotFit);
}

TEST_F(HardCase, SplinedHubTakesASixBoltRotorOnlyWithAnAdapter) {
  put("front_hub", {{"rotor_mount", "RL"}});
  put("front_rotor", {{"rotor_mount", "R6"}});
  EXPECT_EQ(worst("C-092").verdict, Verdict::kFitsWith);
  put("front_hub", {{"rotor_mount", "R6"}});
  put("front_rotor", {{"rotor_mount", "RL"}});
  EXPECT_EQ(worst("C-092").verdict, Verdict::kDoesNotFit);
}

TEST_F(HardCase, InternalLockringDoesNotPassAFifteenMillimetreAxle) {
  put("front_hub", {{"axle_diameter", 15.0}});
  put("front_rotor", {{"rotor_mount", "RL"}, {"lockring_notch", "internal"}});
  EXPECT_EQ(worst("C-093").verdict, Verdict::kDoesNotFit);
  put("front_rotor", {{"rotor_mount", "RL"}, {"lockring_notch", "external"}});
  EXPECT_EQ(worst("C-093").verdict, Verdict::kFits);
}

TEST_F(HardCase, MineralOilCaliperNeverGetsADotLever) {
  put("front_brake", {{"brake_type", "hydraulic disc"},
                      {"brake_fluid", "DOT 5.1"},
                      {"caliper_fluid", "mineral oil"}});
  const Outcome outcome = worst("C-095");
  EXPECT_EQ(outcome.verdict, Verdict::kDoesNotFit);
  EXPECT_NE(outcome.sentence.find("mineral oil"), std::string::npos) << outcome.sentence;
}

TEST_F(HardCase, ThirtyTwoHoleRimDoesNotLaceToAThirtySixHoleHub) {
  put("rear_hub", {{"spoke_count", 36.0}});
  put("rear_rim", {{"spoke_count", 32.0}});
  EXPECT_EQ(worst("C-025").verdict, Verdict::kDoesNotFit);
}

TEST_F(HardCase, BeltTwoTeethShortLeavesTheSlider) {
  // 55/22 teeth, 11 mm pitch: 118 teeth close at 434.84 mm, 116 at 423.5 mm (derived from the belt
  // length formula of mech/belt.hpp).
  put("frame", {{"chainstay_min", 430.0}, {"chainstay_max", 445.0}});
  put("chainring", {{"teeth", 55.0}});
  put("rear_sprocket", {{"teeth", 22.0}});
  put("belt", {{"belt_teeth", 118.0}, {"pitch", 11.0}});
  EXPECT_EQ(worst("C-072").verdict, Verdict::kFits);
  put("belt", {{"belt_teeth", 116.0}});
  EXPECT_EQ(worst("C-072").verdict, Verdict::kDoesNotFit);
}

TEST_F(HardCase, SmallRingBelowTheHubGearsLeastRatioAsksForCare) {
  put("rear_hub", {{"primary_ratio_min", 1.8}});
  put("chainring", {{"teeth", 38.0}});
  put("rear_sprocket", {{"teeth", 22.0}});
  EXPECT_EQ(worst("C-077").verdict, Verdict::kFitsWithCare);
  put("chainring", {{"teeth", 42.0}});
  EXPECT_EQ(worst("C-077").verdict, Verdict::kFits);
}

TEST_F(HardCase, LongDropperMeetsTheBendAboveAMidMotor) {
  put("seatpost", {{"post_type", "dropper"}, {"dropper_insertion", 170.0}});
  put("frame", {{"straight_depth", 150.0}});
  EXPECT_EQ(worst("C-112a").verdict, Verdict::kDoesNotFit);
  put("frame", {{"straight_depth", 230.0}});
  EXPECT_EQ(worst("C-112a").verdict, Verdict::kFits);
}

TEST_F(HardCase, DisplayOfAnotherGenerationDoesNotTalkToTheMotor) {
  put("motor", {{"system_generation", 2.0}});
  put("display", {{"system_generation", 3.0}});
  EXPECT_EQ(worst("C-131d").verdict, Verdict::kDoesNotFit);
}

TEST_F(HardCase, OnlyTheChildAndItsSeatExceedThePermittedTotalMass) {
  put("frame", {{"permitted_total_mass", 130.0}, {"mass", 24.0}});
  trade::Order order;
  order.rider.mass = 90.0 * kg;
  order.need.luggage = 10.0 * kg;
  bike_.order = trade::order_facts(order);
  EXPECT_EQ(worst("C-150").verdict, Verdict::kFits);
  put("child_seat", {{"mass", 4.0}});
  EXPECT_EQ(worst("C-150").verdict, Verdict::kFits);
  order.need.child_seat = true;
  order.need.luggage = 28.0 * kg;  // a child of 18 kg
  bike_.order = trade::order_facts(order);
  const Outcome outcome = worst("C-150");
  EXPECT_EQ(outcome.verdict, Verdict::kDoesNotFit);
  EXPECT_NE(outcome.sentence.find("146 kg"), std::string::npos) << outcome.sentence;
  order.rider.mass = std::nullopt;
  bike_.order = trade::order_facts(order);
  EXPECT_EQ(worst("C-150").verdict, Verdict::kNotKnown);
}

TEST_F(HardCase, TwentyEightInchMayMean622Or635) {
  put("rear_tyre", {{"bead_seat_diameter", 622.0}});
  put("rear_rim", {{"bead_seat_diameter", 635.0}});
  EXPECT_EQ(worst("C-032").verdict, Verdict::kDoesNotFit);
  put("rear_rim", {{"bead_seat_diameter", 622.0}});
  EXPECT_EQ(worst("C-032").verdict, Verdict::kFits);
}

TEST_F(HardCase, TwentyInchMayMean406Or451) {
  put("front_tyre", {{"bead_seat_diameter", 406.0}});
  put("front_rim", {{"bead_seat_diameter", 451.0}});
  EXPECT_EQ(worst("C-032").verdict, Verdict::kDoesNotFit);
  put("fork", {{"bead_seat_diameter", 406.0}});
  EXPECT_EQ(worst("C-031 front").verdict, Verdict::kDoesNotFit);
}

TEST_F(HardCase, PostMountMadeFor180TakesNoSmallerRotor) {
  put("fork", {{"rotor_native", 180.0}, {"rotor_max", 203.0}});
  put("front_rotor", {{"rotor_diameter", 160.0}});
  EXPECT_EQ(worst("C-091a front").verdict, Verdict::kDoesNotFit);
  put("front_rotor", {{"rotor_diameter", 180.0}});
  EXPECT_EQ(worst("C-091a front").verdict, Verdict::kFits);
  put("front_rotor", {{"rotor_diameter", 203.0}});
  EXPECT_EQ(worst("C-091a front").verdict, Verdict::kFitsWith);
}

TEST_F(HardCase, WeakerOfRackAndFrameBoundsTheLuggage) {
  trade::Order order;
  order.need.luggage = 22.0 * kg;
  bike_.order = trade::order_facts(order);
  put("frame", {{"rack_load_max", 20.0}});
  put("rack", {{"rack_load_max", 25.0}});
  EXPECT_EQ(worst("C-151a").verdict, Verdict::kFits);
  const Outcome outcome = worst("C-151b");
  EXPECT_EQ(outcome.verdict, Verdict::kDoesNotFit);
  EXPECT_NE(outcome.sentence.find("20 kg"), std::string::npos) << outcome.sentence;
  put("frame", {{"rack_load_max", 27.0}});
  put("rack", {{"rack_load_max", 20.0}});
  EXPECT_EQ(worst("C-151a").verdict, Verdict::kDoesNotFit) << "a rack weaker than the label";
}

TEST_F(HardCase, CarbonSteererDoesNotCarryFortyFiveMillimetresOfSpacers) {
  put("fork", {{"steerer_material", "carbon"}, {"steerer_spacers_max", 30.0}});
  put("headset", {{"spacers_supplied", 45.0}});
  EXPECT_EQ(worst("C-006").verdict, Verdict::kDoesNotFit);
  put("fork", {{"steerer_material", "steel"}});
  const trade::Rule& rule = *std::ranges::find(loaded().trade.rules, "C-006", &trade::Rule::id);
  EXPECT_FALSE(evaluate(loaded().trade, rule, bike_).applies);
}

TEST_F(HardCase, CustomerWhoOrdersTheFrontBrakeOnTheRightGetsNoLeftHandSet) {
  trade::Order order;
  order.need.front_brake_lever = "right";
  bike_.order = trade::order_facts(order);
  put("front_brake", {{"lever_side", "left"}});
  put("rear_brake", {{"lever_side", "left"}});
  EXPECT_EQ(worst("C-100 front").verdict, Verdict::kDoesNotFit);
  EXPECT_EQ(worst("C-100 rear").verdict, Verdict::kFits);
  put("front_brake", {{"lever_side", "either"}});
  EXPECT_EQ(worst("C-100 front").verdict, Verdict::kFits);
}

TEST_F(HardCase, FortyTwoMillimetreTyreGoesNeitherInFortyNorUnderTheGuard) {
  put("frame", {{"max_tyre_width", 40.0}, {"max_tyre_with_guard", 35.0}});
  put("rear_tyre", {{"tyre_width", 42.0}});
  EXPECT_EQ(worst("C-035 rear").verdict, Verdict::kDoesNotFit);
  put("rear_tyre", {{"tyre_width", 38.0}});
  EXPECT_EQ(worst("C-035 rear").verdict, Verdict::kFits);
  put("mudguards", {});
  EXPECT_EQ(worst("C-035g rear").verdict, Verdict::kDoesNotFit);
}

TEST_F(HardCase, HubMotorWithoutATorqueArmCanSpinOut) {
  put("rear_hub", {{"axle_type", "bolted"}, {"torque_support_needed", true}, {"axle_flats", 10.0}});
  put("frame", {{"torque_support", false}, {"dropout_slot", 10.1}});
  EXPECT_EQ(worst("C-024a rear").verdict, Verdict::kDoesNotFit);
  EXPECT_EQ(worst("C-024b").verdict, Verdict::kFits);
  put("frame", {{"torque_support", true}, {"dropout_slot", 10.6}});
  EXPECT_EQ(worst("C-024a rear").verdict, Verdict::kFits);
  EXPECT_EQ(worst("C-024b").verdict, Verdict::kDoesNotFit);
}

TEST_F(HardCase, RideIsNotKnownUntilItsRouteIs) {
  trade::Order order;
  order.rider.mass = 74.0 * kg;
  order.need.luggage = 20.0 * kg;
  order.need.route = "over the hill";
  put("frame", {{"layout", "standard"}});
  put("motor", {{"drive_efficiency", 75.0}});
  put("battery", {{"energy", 400.0}});
  put("rear_tyre", {{"rolling", 0.006}});
  bike_.order = trade::order_facts(order);
  EXPECT_EQ(worst("C-180").verdict, Verdict::kNotKnown);
  bike_.order = trade::order_facts(order, trade::RideFacts{30 * km, 300 * metre, 0.07});
  EXPECT_EQ(worst("C-180").verdict, Verdict::kFits);
  bike_.order = trade::order_facts(order, trade::RideFacts{70 * km, 1200 * metre, 0.07});
  EXPECT_EQ(worst("C-180").verdict, Verdict::kDoesNotFit);
}

TEST(RealRules, CompileForEveryBuildWithAnEmptyCatalogue) {
  ASSERT_TRUE(loaded().problems.empty());
  for (const auto& [id, build] : loaded().trade.templates) {
    const auto problem = compile({loaded().trade, build, {}, trade::order_facts({}), trade::rider_facts({})});
    ASSERT_TRUE(problem) << id;
    EXPECT_EQ(choices(*problem, {})->selection, Status::kClosed) << "nothing to build from";
  }
}

}  // namespace
}  // namespace rollwright::spec
