#include "http/order_aid.hpp"

#include <algorithm>

#include <gtest/gtest.h>

#include "aids/joint_ranges.hpp"
#include "build/aid_fields.hpp"
#include "http/order_does.hpp"
#include "shop/demo_shop.hpp"

// The demo is invented.
namespace rollwright::http {
namespace {

/// Ids of the demo's orders.
std::vector<std::string> orders() {
  std::vector<std::string> ids;
  const std::vector<shop::OrderLine> lines = shop::shared_demo().orders().value();
  for (const shop::OrderLine& line : lines) ids.push_back(line.id);
  return ids;
}

/// Gives the ends that may be asked for.
std::vector<std::string> reckons_or_says_why(const std::string& order, const std::string& aid,
                                             const std::string& end) {
  const std::string what = order + " " + aid + " " + end;
  const auto filled = order_aid(shop::shared_demo(), {order, aid, end, {}});
  EXPECT_TRUE(filled) << what << ": " << filled.error().full();
  if (!filled) return {};
  EXPECT_NE(filled->reckoned.has_value(), filled->refusal.has_value()) << what;
  if (!filled->refusal) return filled->ends;
  EXPECT_FALSE(filled->refusal->sentence.empty()) << what;
  if (filled->fields.empty()) return filled->ends;  // it has nothing to say of this bike
  const bool asks = std::ranges::any_of(filled->fields, [&](const aids::FilledField& field) {
    return !field.question.empty() &&
           filled->refusal->sentence.find(field.question) != std::string::npos;
  });
  EXPECT_TRUE(asks) << what << ": " << filled->refusal->full();
  return filled->ends;
}

TEST(OrderAid, EveryAidOfEveryDemoOrderReckonsOrNamesWhatIsNotKnown) {
  for (const std::string& order : orders()) {
    for (const std::string& aid : build::aids_with_fields()) {
      for (const std::string& end : reckons_or_says_why(order, aid, "")) {
        reckons_or_says_why(order, aid, end);
      }
    }
  }
}

TEST(OrderAid, FillsOnlyAidsThatThereAre) {
  for (const std::string& id : build::aids_with_fields()) {
    EXPECT_TRUE(aids::aid_called(id)) << id;
  }
}

const aids::FilledField& field(const aids::FilledAid& filled, const std::string& key) {
  return *std::ranges::find(filled.fields, key, &aids::FilledField::key);
}

TEST(OrderAid, APresetIsNeverPassedOffAsTheBikes) {
  const auto filled = order_aid(shop::shared_demo(), {"2001", "gears", "", {}});
  ASSERT_TRUE(filled && filled->reckoned);
  EXPECT_EQ(field(*filled, "fronts").from, "known");
  EXPECT_FALSE(field(*filled, "fronts").origin.empty());
  EXPECT_EQ(field(*filled, "high_cadence").from, "preset");
  EXPECT_TRUE(field(*filled, "high_cadence").origin.empty());
}

TEST(OrderAid, WhatIsTypedGoesBeforeTheOrder) {
  const auto as_is = order_aid(shop::shared_demo(), {"2001", "gears", "", {}});
  const auto typed = order_aid(shop::shared_demo(), {"2001", "gears", "", {{"fronts", "23"}}});
  ASSERT_TRUE(as_is && typed && as_is->reckoned && typed->reckoned);
  EXPECT_EQ(field(*typed, "fronts").from, "typed");
  EXPECT_EQ(field(*typed, "fronts").value, "23");
  EXPECT_NE(as_is->reckoned->tables[0].rows[0][1], typed->reckoned->tables[0].rows[0][1]);
}

TEST(OrderAid, TheOrdersOwnRouteDecidesWhetherItComesHome) {
  const auto filled = order_aid(shop::shared_demo(), {"2001", "home-again", "", {}});
  ASSERT_TRUE(filled && filled->reckoned);
  EXPECT_EQ(field(*filled, "route").value, "ridge");
  EXPECT_EQ(filled->reckoned->bands.size(), 1u);
  const auto none = order_aid(shop::shared_demo(), {"2002", "home-again", "", {}});
  ASSERT_TRUE(none && none->refusal);
  EXPECT_NE(none->refusal->sentence.find("no motor"), std::string::npos) << none->refusal->full();
}

TEST(JointRanges, AreThoseOfTheTradeData) {
  const auto& readings = shop::shared_demo().trade().readings;
  std::size_t torques = 0;
  for (const trade::Reading& reading : readings) {
    if (reading.dimension != Dimension::kTorque || !reading.least) continue;
    ++torques;
    std::string joint = reading.id;
    std::ranges::replace(joint, '_', ' ');
    const aids::JointRange* range = aids::joint_called(joint);
    ASSERT_NE(range, nullptr) << joint;
    EXPECT_EQ(range->name, reading.name);
    EXPECT_EQ(range->source, reading.source) << joint;
    EXPECT_EQ(range->least_nm, reading.least) << joint;
    EXPECT_EQ(range->most_nm, reading.most) << joint;
  }
  EXPECT_EQ(torques, aids::joint_ranges().size());
}

TEST(OrderAid, ThePrintOfThePartsGoesBeforeTheUsualTorque) {
  const auto filled = order_aid(shop::shared_demo(), {"2001", "torque", "faceplate bolts", {}});
  ASSERT_TRUE(filled && filled->reckoned) << (filled ? "" : filled.error().full());
  EXPECT_EQ(field(*filled, "printed").from, "known");
  EXPECT_NE(field(*filled, "thread").question, "");
  EXPECT_EQ(filled->reckoned->rows[0].name, "Printed, goes first");
  EXPECT_EQ(filled->reckoned->rows[1].name, "Usual, from");
}

TEST(OrderDoes, GivesEveryFigureOfEveryDemoOrderOrTheQuestion) {
  for (const std::string& order : orders()) {
    const auto does = order_does(shop::shared_demo(), order);
    ASSERT_TRUE(does) << order << ": " << does.error().full();
    EXPECT_GE(does->doings.size(), 6u) << order;
    for (const aids::Doing& doing : does->doings) {
      EXPECT_NE(doing.value.empty(), doing.questions.empty()) << order << " " << doing.name;
    }
  }
}

TEST(OrderDoes, SaysOnWhichPresetsAFigureRests) {
  const auto does = order_does(shop::shared_demo(), "2001");
  ASSERT_TRUE(does);
  const auto stop = std::ranges::find(does->doings, "Stopping distance", &aids::Doing::name);
  ASSERT_NE(stop, does->doings.end());
  EXPECT_EQ(std::ranges::count(stop->presets, "Speed: 25 km/h"), 1);
  EXPECT_TRUE(does->has_charge);
}

TEST(OrderDoes, LeavesOutWhatDoesNotConcernTheBike) {
  const auto does = order_does(shop::shared_demo(), "2002");  // no motor, no route
  ASSERT_TRUE(does);
  EXPECT_FALSE(does->has_charge);
  EXPECT_EQ(std::ranges::count(does->doings, "route-heat", &aids::Doing::aid), 0);
}

TEST(OrderAid, RefusesAnEndThatABikeDoesNotHave) {
  const auto filled = order_aid(shop::shared_demo(), {"2001", "gears", "left", {}});
  ASSERT_FALSE(filled);
  EXPECT_EQ(filled.error().place.field, "end");
}

}  // namespace
}  // namespace rollwright::http
