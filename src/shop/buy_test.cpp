#include <map>
#include <set>

#include <gtest/gtest.h>

#include "base/working_days.hpp"
#include "shop/demo_shop.hpp"

// These claims are made on the demo of data/demo, which is invented.
namespace rollwright::shop {
namespace {

TEST(Buy, BuysEachPartForAnOrderOnce) {
  const BuyView view = shared_demo().buy().value();
  std::set<std::pair<std::string, std::string>> bought;
  for (const BuyGroup& group : view.groups) {
    for (const BuyLine& line : group.lines) {
      for (const std::string& order : line.orders) {
        EXPECT_TRUE(bought.insert({line.part, order}).second) << line.part << " for " << order;
      }
    }
  }
  EXPECT_FALSE(bought.empty());
}

TEST(Buy, ProposesOneOrderToASupplierOnADayThatCanBeKept) {
  const BuyView view = shared_demo().buy().value();
  std::set<std::pair<std::string, std::string>> orders;
  const Day today = parse_day("2026-11-25").value();
  for (const BuyGroup& group : view.groups) {
    EXPECT_TRUE(orders.insert({group.supplier, iso(group.day)}).second) << group.supplier;
    EXPECT_TRUE(is_working_day(group.day)) << iso(group.day);
    EXPECT_GE(group.day, today);
    for (const BuyLine& line : group.lines) {
      EXPECT_EQ(line.buy_on, group.day) << line.part;
      EXPECT_TRUE(line.too_late || line.buy_on <= line.order_by) << line.part;
      EXPECT_TRUE(line.too_late || line.in_time >= 0.9) << line.part;
      EXPECT_GE(line.quantity, line.needed) << line.part;
      EXPECT_LE(line.lead_days_50, line.lead_days_90) << line.part;
      EXPECT_FALSE(line.basis.empty()) << line.part;
    }
  }
}

TEST(Buy, AddsUpToTheCostItTellsAndNeverAboveBuyingWhenNeeded) {
  const BuyView view = shared_demo().buy().value();
  std::int64_t sum = 0;
  for (const BuyGroup& group : view.groups) {
    sum += group.goods_cents + group.freight_cents + group.surcharge_cents;
  }
  EXPECT_EQ(sum, view.cost_cents);
  EXPECT_LE(view.cost_cents, view.when_needed_cents);
  EXPECT_TRUE(view.proven);
}

// 25 November 2026, 8:45 in the demo's town.
TEST(Buy, CountsTheTimeToEachCutOffFromTheShopsClock) {
  const BuyView view = shared_demo().buy().value();
  for (const BuyGroup& group : view.groups) {
    EXPECT_FALSE(group.clock.empty()) << group.supplier;
    if (group.supplier == "nordal") {
      EXPECT_EQ(group.minutes_left, 14 * 60 - (8 * 60 + 45));
      EXPECT_EQ(group.clock, "order within 5 h 15 min to make today's dispatch");
    }
    if (group.supplier == "sundre") {
      EXPECT_EQ(group.minutes_left, 0) << "ships on Tuesdays and Thursdays";
      EXPECT_EQ(iso(group.dispatch), "2026-11-26");
    }
  }
}

TEST(Buy, SaysHowSureEachKitIs) {
  const BuyView view = shared_demo().buy().value();
  std::map<std::string, const KitView*> kits;
  for (const KitView& kit : view.kits) {
    EXPECT_TRUE(kits.emplace(kit.order, &kit).second) << kit.order;
    EXPECT_GT(kit.to_buy + kit.under_way, 0) << kit.order;
    EXPECT_LE(kit.complete, kit.weakest_there + 1e-9) << kit.order;
    EXPECT_FALSE(kit.weakest_name.empty()) << kit.order;
  }
  EXPECT_FALSE(kits.empty());
}

}  // namespace
}  // namespace rollwright::shop
