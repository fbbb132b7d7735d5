#include "build/applicable.hpp"

#include <algorithm>

#include <gtest/gtest.h>

#include "base/random.hpp"
#include "base/text.hpp"
#include "build/traits.hpp"
#include "build/worked_bike.hpp"

namespace rollwright::build {
namespace {

/// Invented operations "0", "1", ... among which each may wait for earlier ones, in shuffled order;
/// each applies when the trait of its own name holds.
trade::Trade random_trade(Random& random, int count) {
  trade::Trade trade;
  for (int i = 0; i < count; ++i) {
    trade::Operation operation{.id = std::to_string(i), .area = i % 3 == 0 ? "bench" : "stand"};
    for (int before = 0; before < i; ++before) {
      if (random.below(4) == 0) operation.after.push_back(std::to_string(before));
    }
    operation.minutes_low = static_cast<double>(1 + random.below(20));
    operation.minutes_high = operation.minutes_low + static_cast<double>(random.below(20));
    operation.when.all = {operation.id};
    trade.operations.push_back(operation);
  }
  for (std::size_t i = trade.operations.size(); i > 1; --i) {
    std::swap(trade.operations[i - 1], trade.operations[random.below(i)]);
  }
  return trade;
}

/// The definition itself: a waits for b when a chain of predecessors leads from a to b over
/// operations that do not apply. Walks every chain.
bool waits_for(const trade::Trade& trade, const std::set<std::string>& traits,
               const std::string& late, const std::string& early) {
  const trade::Operation* operation = trade::find_operation(trade, late);
  return std::ranges::any_of(operation->after, [&](const std::string& before) {
    if (before == early) return true;
    const trade::Operation* between = trade::find_operation(trade, before);
    return !applies(between->when, traits) && waits_for(trade, traits, before, early);
  });
}

void expect_bridged_as_defined(const trade::Trade& trade, const std::set<std::string>& traits) {
  const auto operations = applicable_operations(trade.operations, traits);
  ASSERT_TRUE(operations.has_value());
  for (const ApplicableStep& late : operations->steps) {
    for (const ApplicableStep& early : operations->steps) {
      const bool bridged = std::ranges::count(late.after, early.operation->id) > 0;
      EXPECT_EQ(bridged, waits_for(trade, traits, late.operation->id, early.operation->id))
          << late.operation->id << " after " << early.operation->id;
    }
  }
}

void expect_everything_waits_its_turn(const ApplicableOperations& operations) {
  std::set<std::string> done;
  for (const ApplicableStep& step : operations.steps) {
    for (const std::string& before : step.after) {
      EXPECT_TRUE(done.contains(before)) << step.operation->id << " stands before " << before;
    }
    done.insert(step.operation->id);
  }
}

/// Longest chain by walking every chain, in middle minutes.
double slow_chain(const ApplicableOperations& operations, const ApplicableStep& step) {
  double longest = 0;
  for (const ApplicableStep& other : operations.steps) {
    if (std::ranges::count(step.after, other.operation->id) > 0) {
      longest = std::max(longest, slow_chain(operations, other));
    }
  }
  return longest + (step.operation->minutes_low + step.operation->minutes_high) / 2;
}

TEST(ApplicableOperations, AreBridgedAsTheDefinitionSaysForEverySetOfTraits) {
  Random random(41);
  for (int round = 0; round < 6; ++round) {
    const trade::Trade trade = random_trade(random, 8);
    for (unsigned bits = 0; bits < 256; ++bits) {  // all 2^8 sets
      std::set<std::string> traits;
      for (int i = 0; i < 8; ++i) {
        if ((bits >> i) % 2 == 1) traits.insert(std::to_string(i));
      }
      expect_bridged_as_defined(trade, traits);
    }
  }
}

TEST(ApplicableOperations, KeepEveryPredecessorBeforeItsStepAndFindTheLongestChain) {
  Random random(7);
  for (int round = 0; round < 200; ++round) {
    const trade::Trade trade = random_trade(random, 12);
    std::set<std::string> traits;
    for (int i = 0; i < 12; ++i) {
      if (random.below(3) > 0) traits.insert(std::to_string(i));
    }
    const auto operations = applicable_operations(trade.operations, traits);
    ASSERT_TRUE(operations.has_value());
    EXPECT_EQ(operations->steps.size(), traits.size());
    expect_everything_waits_its_turn(*operations);
    double longest = 0;
    for (const ApplicableStep& step : operations->steps) {
      longest = std::max(longest, slow_chain(*operations, step));
    }
    EXPECT_DOUBLE_EQ(operations->chain.middle, longest);
    EXPECT_LE(operations->chain.low, operations->chain.middle);
    EXPECT_LE(operations->chain.middle, operations->chain.high);
  }
}

TEST(ApplicableOperations, OfTheShippedTradeAreBridgedAndOrderedForSampledTraits) {
  const trade::Trade& trade = shipped_trade();
  Random random(2026);
  for (int round = 0; round < 40; ++round) {
    std::set<std::string> traits = {round % 5 == 0 ? "maker_built" : "shop_built"};
    for (const auto& [id, trait] : trade.traits) {
      if (!trait.any_of.empty() && random.below(2) == 0) traits.insert(id);
    }
    const auto operations = applicable_operations(trade.operations, traits);
    ASSERT_TRUE(operations.has_value());
    expect_everything_waits_its_turn(*operations);
    if (round < 8) expect_bridged_as_defined(trade, traits);
  }
}

TEST(ApplicableOperations, StayInOneAreaWhileTheyCan) {
  trade::Trade trade;
  trade.operations = {{.id = "a", .area = "bench"},
                      {.id = "b", .area = "stand"},
                      {.id = "c", .area = "bench"},
                      {.id = "d", .area = "stand", .after = {"c"}}};
  const auto operations = applicable_operations(trade.operations, {});
  ASSERT_TRUE(operations.has_value());
  std::string order;
  for (const ApplicableStep& step : operations->steps) order += step.operation->id;
  EXPECT_EQ(order, "acbd");
}

TEST(ApplicableOperations, RefuseALoopAndAnUnknownPredecessorByName) {
  trade::Trade loop;
  loop.operations = {{.id = "a", .after = {"b"}}, {.id = "b", .after = {"a"}}};
  const auto refused = applicable_operations(loop.operations, {});
  ASSERT_FALSE(refused.has_value());
  EXPECT_EQ(refused.error().code, Code::kContradiction);

  trade::Trade unknown;
  unknown.operations = {{.id = "a", .after = {"A-99"}}};
  const auto missing = applicable_operations(unknown.operations, {});
  ASSERT_FALSE(missing.has_value());
  EXPECT_EQ(missing.error().code, Code::kNotFound);
  EXPECT_NE(missing.error().sentence.find("A-99"), std::string::npos);
}

/// One of five usual builds with its totals, worked out by hand from the trade's process table
/// (derived; minutes are common practice). `traits` is what such a bike is, in our words.
struct UsualBuild {
  std::string name;
  std::set<std::string> traits;
  std::string operations;
  double low = 0;
  double high = 0;
  double middle_hours = 0;  // one decimal
  double chain_hours = 0;   // one decimal
  std::map<std::string, double> area_minutes;  // whole minutes
};

std::vector<UsualBuild> usual_builds() {
  const std::set<std::string> city = {
      "shop_built", "new_fork", "pressed_headset_upper", "pressed_headset_lower", "disc_brakes",
      "hydraulic_brakes", "hand_built_front", "hand_built_rear", "tubed", "flat_bar", "thru_axle",
      "fixed_post", "mudguards", "guard", "small_parts", "accessories", "kickstand"};
  const std::set<std::string> electric = {
      "mid_motor", "e_bike", "e_bike_lights", "keys_or_tracker", "belt", "hub_gear",
      "bolted_hub_gear", "internal_routing"};
  std::set<std::string> b1 = city;
  b1.insert(electric.begin(), electric.end());
  b1.insert("rack");
  std::set<std::string> b2 = city;
  b2.insert({"threaded_shell", "threaded_shell_unfaced", "derailleur", "front_derailleur", "chain",
             "cable_derailleur", "external_routing", "rack", "suspension_fork", "dynamo_lights"});
  std::set<std::string> b3 = city;
  b3.insert(electric.begin(), electric.end());
  b3.erase("kickstand");
  b3.insert({"cargo", "front_load_cargo", "two_leg_stand", "passenger_kit"});
  const std::set<std::string> b4 = {
      "shop_built", "new_fork", "pressed_headset_upper", "pressed_headset_lower", "disc_brakes",
      "hydraulic_brakes", "bought_wheels", "tubeless", "drop_bar", "thru_axle", "fixed_post",
      "small_parts", "press_fit_shell", "derailleur", "chain", "electronic_shifting",
      "internal_routing"};
  const std::set<std::string> b5 = {"maker_built", "e_bike", "mid_motor", "belt", "hub_gear",
                                    "accessories", "disc_brakes", "hydraulic_brakes"};
  return {
      {"B1", b1,
       "G-10 G-20 G-30 G-40 F-10 F-22 F-30 F-40 F-50 F-56 F-60 F-70 F-75 F-80 W-10 W-20 W-21 W-30 "
       "W-31 W-40 W-50 W-60 W-70 W-81 E-10 E-20 A-12 A-20 A-21 A-22 A-30 A-31 A-40 A-41 A-53 A-60 "
       "A-61 A-62 A-70 A-80 A-81 A-82 A-83 A-84 A-85 E-30 E-40 E-50 E-60 E-70 E-80 E-81 E-90 T-10 "
       "T-20 T-30 T-40 T-50 T-60 T-70 T-80 H-10 H-20 H-30",
       647, 1260, 15.9, 6.7,
       {{"goods-in", 42}, {"frame prep", 176}, {"assembly", 242}, {"test area", 90},
        {"handover", 64}, {"wheel bench", 196}, {"electrics", 146}}},
      {"B2", b2,
       "G-10 G-20 G-30 G-40 F-10 F-20 F-30 F-40 F-50 F-55 F-56 F-61 F-70 F-75 F-80 W-10 W-20 W-21 "
       "W-30 W-31 W-40 W-50 W-60 W-70 W-80 A-10 A-11 A-20 A-21 A-22 A-30 A-42 A-50 A-51 A-52 A-60 "
       "A-61 A-62 A-70 A-80 A-81 A-82 A-83 A-84 A-85 A-86 E-51 T-10 T-20 T-30 T-40 T-50 T-60 T-70 "
       "T-80 H-10 H-20 H-30",
       568, 1088, 13.8, 6.5,
       {{"goods-in", 42}, {"frame prep", 164}, {"assembly", 256}, {"test area", 90},
        {"handover", 64}, {"wheel bench", 192}, {"electrics", 22}}},
      {"B3", b3,
       "G-10 G-20 G-30 G-40 F-10 F-22 F-30 F-40 F-50 F-56 F-60 F-70 F-75 F-80 W-10 W-20 W-21 W-30 "
       "W-31 W-40 W-50 W-60 W-70 W-81 E-10 E-20 A-12 A-20 A-21 A-22 A-30 A-31 A-40 A-41 A-53 A-60 "
       "A-61 A-62 A-70 A-80 A-83 A-84 A-85 Z-10 Z-11 Z-12 Z-13 Z-14 E-30 E-40 E-50 E-60 E-70 E-80 "
       "E-81 E-90 T-10 T-20 T-30 T-40 T-45 T-50 T-60 T-70 T-80 H-10 H-20 H-30",
       727, 1420, 17.9, 6.9,
       {{"goods-in", 42}, {"frame prep", 198}, {"assembly", 320}, {"test area", 109},
        {"handover", 64}, {"wheel bench", 196}, {"electrics", 146}}},
      {"B4", b4,
       "G-10 G-20 G-30 G-40 F-10 F-21 F-30 F-40 F-50 F-55 F-56 F-60 F-70 F-75 F-80 W-45 W-50 W-61 "
       "W-70 W-80 A-10 A-11 A-20 A-21 A-23 A-30 A-42 A-50 A-54 A-60 A-61 A-62 A-70 A-84 A-85 T-10 "
       "T-20 T-30 T-40 T-50 T-60 T-70 T-80 H-10 H-20 H-30",
       435, 865, 10.8, 6.6,
       {{"goods-in", 42}, {"frame prep", 181}, {"assembly", 202}, {"test area", 90},
        {"handover", 64}, {"wheel bench", 72}}},
      {"B5", b5,
       "N-10 N-20 N-30 N-40 N-45 N-50 N-55 N-60 N-65 N-66 N-70 N-75 N-80 N-85 N-90 H-10 H-20 H-30",
       198, 425, 5.2, 3.9,
       {{"goods-in", 34}, {"assembly", 112}, {"wheel bench", 14}, {"electrics", 22},
        {"test area", 65}, {"handover", 64}}},
  };
}

TEST(UsualBuilds, HaveTheOperationsMinutesAndChainsOfTheProcessTable) {
  for (const UsualBuild& build : usual_builds()) {
    SCOPED_TRACE(build.name);
    const auto ours = applicable_operations(shipped_trade().operations, build.traits);
    ASSERT_TRUE(ours.has_value());
    std::set<std::string> ids;
    for (const ApplicableStep& step : ours->steps) ids.insert(step.operation->id);
    const std::vector<std::string> listed = split(build.operations, ' ');
    EXPECT_EQ(ids, std::set<std::string>(listed.begin(), listed.end()));
    EXPECT_EQ(ours->minutes_low, build.low);
    EXPECT_EQ(ours->minutes_high, build.high);
    EXPECT_NEAR((ours->minutes_low + ours->minutes_high) / 120, build.middle_hours, 0.0501);
    EXPECT_NEAR(ours->chain.middle / 60, build.chain_hours, 0.0501);
    ASSERT_EQ(ours->middle_minutes_by_area.size(), build.area_minutes.size());
    for (const auto& [area, minutes] : build.area_minutes) {
      EXPECT_NEAR(ours->middle_minutes_by_area.at(area), minutes, 0.5) << area;  // rounded there
    }
  }
}

TEST(Hands, AreSeveralOnlyOfTheBikesThatTakeThem) {
  trade::Trade trade;
  trade.operations = {{.id = "one"}, {.id = "two"}, {.id = "two if heavy"}};
  trade.operations[1].hands = 2;
  trade.operations[2].hands = 2;
  trade.operations[2].hands_when.any = {"heavy"};
  const auto hands = [&](const std::set<std::string>& traits) {
    std::map<std::string, int> of;
    const auto steps = applicable_operations(trade.operations, traits).value().steps;
    for (const ApplicableStep& step : steps) of[step.operation->id] = step.hands;
    return of;
  };
  using Hands = std::map<std::string, int>;
  EXPECT_EQ(hands({}), (Hands{{"one", 1}, {"two", 2}, {"two if heavy", 1}}));
  EXPECT_EQ(hands({"heavy"}), (Hands{{"one", 1}, {"two", 2}, {"two if heavy", 2}}));
}

TEST(Hands, ShippedAreTwoForEBikesAndCargoBikesOnly) {
  for (const auto& [traits, expected] :
       std::vector<std::pair<std::set<std::string>, std::string>>{
           {{"shop_built", "by_freight"}, ""},
           {{"shop_built", "by_freight", "e_bike"}, "P-40 T-60"},
           {{"shop_built", "by_freight", "cargo", "cargo_by_freight"}, "P-21 P-40 T-60"},
           {{"maker_built", "e_bike"}, "N-10"}}) {
    std::set<std::string> two;
    const auto steps = applicable_operations(shipped_trade().operations, traits).value().steps;
    for (const ApplicableStep& step : steps) {
      if (step.hands == 2) two.insert(step.operation->id);
    }
    EXPECT_EQ(join(std::vector<std::string>(two.begin(), two.end()), " "), expected);
  }
}

}  // namespace
}  // namespace rollwright::build
