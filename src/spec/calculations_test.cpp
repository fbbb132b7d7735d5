#include "spec/calculations.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "trade/order_facts.hpp"
#include "trade/rule_calculations.hpp"

namespace rollwright::spec {
namespace {

double answer(std::string_view name, const std::vector<double>& arguments) {
  const Calculation* calculation = find_calculation(name);
  EXPECT_NE(calculation, nullptr) << name;
  const Result<double> result = calculation->compute(arguments);
  EXPECT_TRUE(result) << name << ": " << (result ? "" : result.error().sentence);
  return result ? *result : NAN;
}

TEST(Calculations, ArePreciselyThoseThatRulesMayName) {
  EXPECT_EQ(calculations().size(), trade::rule_calculations().size());
  for (const trade::RuleCalculation& row : trade::rule_calculations()) {
    EXPECT_NE(find_calculation(row.name), nullptr) << row.name;
    EXPECT_EQ(row.arguments.size(), row.dimensions.size()) << row.name;
  }
}

TEST(Calculations, RefuseNumbersThatAreNone) {
  for (const trade::RuleCalculation& row : trade::rule_calculations()) {
    // These add, subtract or divide what they get; the rule's comparison refuses the answer.
    const bool plain = row.name == "derailleur_capacity" || row.name == "steerer_needed_mm" ||
                       row.name == "setback_change" || row.name == "wheel_circumference" ||
                       row.name == "primary_ratio";
    const std::vector<double> nothing(row.arguments.size(), std::nan(""));
    const Result<double> result = find_calculation(row.name)->compute(nothing);
    EXPECT_TRUE(plain ? !result || std::isnan(*result) : !result) << row.name;
  }
}

TEST(Calculations, SpokeIsOverByTheDifferenceToItsSidesLength) {
  // Rear hub with 58 mm circles, flanges at 34 and 20.5 mm, 2.6 mm holes, 36 spokes, three crosses,
  // rim 602 mm: 288.30 mm left, 287.03 mm right, by hand from the law of cosines (the angle is 60°).
  EXPECT_NEAR(answer("spoke_over_rear_left", {58, 34, 20.5, 2.6, 36, 602, 0, 3, 289}),
              289 - 288.30, 0.01);
  EXPECT_NEAR(answer("spoke_over_rear_right", {58, 20.5, 34, 2.6, 36, 602, 0, 3, 287}),
              287 - 287.03, 0.01);
}

TEST(Calculations, OffsetRimHelpsTheFlatSideOfARearWheelAndTurnsInAFront) {
  const double centred = answer("spoke_over_rear_right", {58, 20, 34, 2.6, 36, 602, 0, 3, 290});
  // Nipples towards the right flange: the spoke runs flatter and may be shorter.
  EXPECT_GT(answer("spoke_over_rear_right", {58, 20, 34, 2.6, 36, 602, 3, 3, 290}), centred);
  // In front the offset's sign does not matter: the rim is turned.
  EXPECT_EQ(answer("spoke_over_front_left", {58, 20, 34, 2.6, 36, 602, 3, 3, 290}),
            answer("spoke_over_front_left", {58, 20, 34, 2.6, 36, 602, -3, 3, 290}));
}

TEST(Calculations, ChargeNeededCountsTheUsableShareAndTheEfficiency) {
  // The level kilometre of [road-power]: 110 kg, 0.5 m², 0.006, 20 km/h: 4.431 Wh at the wheel;
  // with no help of the rider, 75 % and all of the battery 5.908 Wh and 0.25 Wh of electronics.
  const std::vector<double> ride = {1e6, 0, 80, 30, 0.006, 0.5, 20 / 3.6, 0, 75, 100};
  EXPECT_NEAR(answer("charge_needed", ride), 4.431 / 0.75 + 0.25, 0.002);
  std::vector<double> cold = ride;
  cold[9] = 77;
  EXPECT_NEAR(answer("charge_needed", cold), answer("charge_needed", ride) / 0.77, 1e-9);
  cold[9] = 0;
  EXPECT_FALSE(find_calculation("charge_needed")->compute(cold));
}

TEST(Calculations, SteepestStartGrowsWithTheMotorAndTheLargestSprocket) {
  const std::vector<double> start = {46, 20, 0.527, 622, 50, 170, 74, 65, 94, 28};
  const double first = answer("steepest_start", start);
  EXPECT_NEAR(first, 18.7, 0.2);  // per cent; derived with these numbers
  std::vector<double> other = start;
  other[7] = 85;
  EXPECT_GT(answer("steepest_start", other), first);
  other = start;
  other[1] = 22;
  EXPECT_GT(answer("steepest_start", other), first);
}

TEST(Calculations, WheelRollsPiTimesBeadSeatAndTwiceTheWidth) {
  EXPECT_NEAR(answer("wheel_circumference", {622, 47}), 2249.4, 0.1);  // 716 mm times pi
}

TEST(OrderFacts, KnowTheRideOnlyWhenSomebodyGivesItsFigures) {
  trade::Order order;
  EXPECT_FALSE(std::get<bool>(trade::order_facts(order).facts.at("ride_given").value));
  order.need.route = "ridge";
  const trade::Part unknown = trade::order_facts(order);
  EXPECT_TRUE(std::get<bool>(unknown.facts.at("ride_given").value));
  for (const char* fact : {"ride_length", "ride_climb", "ride_steepest"}) {
    EXPECT_FALSE(unknown.facts.contains(fact)) << fact;
  }
  const trade::Part known =
      trade::order_facts(order, trade::RideFacts{31 * km, 356 * metre, 0.069});
  EXPECT_EQ(trade::number_of(known, "ride_length"), 31e6);
  EXPECT_EQ(trade::number_of(known, "ride_climb"), 356e3);
  EXPECT_NEAR(*trade::number_of(known, "ride_steepest"), 6.9, 1e-12);
}

}  // namespace
}  // namespace rollwright::spec
