#include <gtest/gtest.h>

#include <set>

#include "spec/check.hpp"
#include "spec/demo_rules.hpp"

// The invented shop's orders against the trade's own rules.

namespace rollwright::spec {
namespace {

using trade::Verdict;

class DemoOrders : public ::testing::Test {
 protected:
  void SetUp() override {
    ASSERT_TRUE(real_trade().problems.empty()) << real_trade().problems.front().full();
    ASSERT_TRUE(demo_shop().problems.empty()) << demo_shop().problems.front().full();
  }
};

SpecCheck checked(const trade::Order& order) {
  const trade::Trade& trade = real_trade().trade;
  return check(trade, trade.templates.at(order.build), demo_bike(order, demo_parts()));
}

TEST_F(DemoOrders, NoneFailsAFitRuleAndTheSignedOnesAreKnown) {
  int signed_orders = 0;
  for (const trade::Order& order : demo_shop().files.orders) {
    const SpecCheck result = checked(order);
    for (const Finding& finding : result.findings) {
      EXPECT_NE(finding.verdict, Verdict::kDoesNotFit)
          << order.id.text << " " << finding.rule << ": " << finding.sentence;
      if (order.spec_version == 0) continue;
      EXPECT_NE(finding.verdict, Verdict::kNotKnown)
          << order.id.text << " " << finding.rule << ": " << finding.sentence;
    }
    signed_orders += order.spec_version > 0 ? 1 : 0;
  }
  EXPECT_GE(signed_orders, 30);
}

TEST_F(DemoOrders, ExerciseMostOfTheRules) {
  std::set<std::string> applied;
  for (const trade::Order& order : demo_shop().files.orders) {
    const Bike bike = demo_bike(order, demo_parts());
    for (const trade::Rule& rule : real_trade().trade.rules) {
      if (evaluate(real_trade().trade, rule, bike).applies) applied.insert(rule.name());
    }
  }
  RecordProperty("rules_that_apply_to_some_order", static_cast<int>(applied.size()));
  EXPECT_GE(applied.size(), 280u) << "of " << real_trade().trade.rules.size();
}

}  // namespace
}  // namespace rollwright::spec
