#include <gtest/gtest.h>

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
  EXPECT_EQ(worst("C-112").verdict, Verdict::kDoesNotFit);
}

TEST_F(HardCase, DisplayOfAnotherGenerationDoesNotTalkToTheMotor) {
  put("motor", {{"system_generation", "2"}});
  put("display", {{"system_generation", "3"}});
  EXPECT_EQ(worst("C-131d").verdict, Verdict::kDoesNotFit);
}

TEST_F(HardCase, LuggageOfAChildAloneExceedsThePermittedTotalMass) {
  put("frame", {{"permitted_total_mass", 130.0}, {"mass", 24.0}});
  trade::Order order;
  order.rider.mass = 90.0 * kg;
  order.need.luggage = 10.0 * kg;
  bike_.order = trade::order_facts(order);
  EXPECT_EQ(worst("C-150").verdict, Verdict::kFits);
  order.need.luggage = 32.0 * kg;
  bike_.order = trade::order_facts(order);
  EXPECT_EQ(worst("C-150").verdict, Verdict::kDoesNotFit);
  order.rider.mass = std::nullopt;
  bike_.order = trade::order_facts(order);
  EXPECT_EQ(worst("C-150").verdict, Verdict::kNotKnown);
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
