#include "supply/stock_list.hpp"

#include <gtest/gtest.h>

#include "base/working_days.hpp"
#include "supply/buying.hpp"

// The tubes, suppliers and repairs of these tests are invented.
namespace rollwright::supply {
namespace {

using trade::PartId;
using trade::SupplierId;

const Day kToday = parse_day("2026-11-25").value();
const std::vector<Day> kClosed;
const PartId kTube("TU-1");
const std::vector<trade::Offer> kOffers = {{.supplier = SupplierId("dear"), .part = kTube,
                                            .breaks = {{1, {500}}}},
                                           {.supplier = SupplierId("cheap"), .part = kTube,
                                            .breaks = {{1, {300}}}, .pack = 5}};
const std::map<std::string, trade::LeadTimePrior> kTubePriors = {
    {"tubes", {.group = "tubes", .stocked = {0, 3, 0.3, ""}, .importer = {0, 9, 0.3, ""},
               .made = {0, 30, 0.3, ""}}}};

/// One taking every `every` working days, `times` of them, the last yesterday.
std::vector<trade::Used> taken(int times, int every, int quantity = 1) {
  std::vector<trade::Used> used;
  for (int i = 0; i < times; ++i) {
    used.push_back({.part = kTube, .day = add_working_days(kToday, -1 - i * every),
                    .what_for = "repair", .quantity = quantity});
  }
  return used;
}

struct Shelf {
  std::vector<trade::Used> used;
  std::vector<trade::Stock> stock = {{kTube, 3, {{trade::OrderId("2041"), 2}}}};
  std::vector<trade::PurchaseLine> purchases;
  std::vector<Cover> covers;
  LeadTimes lead_times{kTubePriors, {{kTube, "tubes"}}, {}, kOffers};

  StockQuestion question() const {
    return {.used = used, .stock = stock, .purchases = purchases, .offers = kOffers,
            .covers = covers, .lead_times = lead_times, .today = kToday, .closed = kClosed};
  }
  std::vector<StockLine> lines() const { return stock_lines(question()); }
};

TEST(StockList, ReckonsNothingFromTooFewOccasions) {
  EXPECT_TRUE(Shelf{.used = taken(5, 3)}.lines().empty());
  EXPECT_EQ(Shelf{.used = taken(6, 3)}.lines().size(), 1U);
}

TEST(StockList, CountsWhatIsFreeAndUnderWayLessWhatOrdersTake) {
  Shelf shelf{.used = taken(40, 2)};
  shelf.purchases = {{.id = "P-1", .supplier = SupplierId("cheap"), .part = kTube, .quantity = 4},
                     {.id = "P-2", .supplier = SupplierId("cheap"), .part = kTube, .quantity = 9,
                      .order = trade::OrderId("2042")}};
  Cover cover{.need = {.order = trade::OrderId("2043"), .part = kTube, .quantity = 2},
              .source = Source::kPurchase, .purchase = "P-1"};
  shelf.covers = {cover};
  const StockLine line = shelf.lines().at(0);
  EXPECT_EQ(line.free, 1) << "two of three are put by";
  EXPECT_EQ(line.under_way, 4) << "P-2 is for an order";
  EXPECT_EQ(line.taken, 2);
  EXPECT_EQ(line.supplier, SupplierId("cheap"));
}

TEST(StockList, SaysHowFastItIsUsedAndHowOftenItRunsOut) {
  Shelf shelf{.used = taken(40, 2, 3)};
  shelf.stock = {{kTube, 5, {}}};
  const StockLine line = shelf.lines().at(0);
  // 120 pieces in 79 working days: every other day one occasion of three.
  EXPECT_NEAR(line.per_week, 5 * 120.0 / 79, 1e-9);
  EXPECT_TRUE(line.next.empty()) << "nothing is under way";
  ASSERT_TRUE(line.run_out);
  shelf.stock = {{kTube, 50, {}}};
  EXPECT_LT(*shelf.lines().at(0).run_out, *line.run_out);
  shelf.stock = {{kTube, 5, {}}};
  shelf.purchases = {{.id = "P-9", .supplier = SupplierId("cheap"), .part = kTube, .quantity = 4,
                      .placed = add_working_days(kToday, -2)},
                     {.id = "P-8", .supplier = SupplierId("cheap"), .part = kTube, .quantity = 4,
                      .placed = kToday}};
  const StockLine coming = shelf.lines().at(0);
  EXPECT_EQ(coming.next, "P-9") << "the sooner of the two";
  EXPECT_LT(*coming.run_out, *line.run_out);
  Cover cover{.need = {.order = trade::OrderId("2043"), .part = kTube, .quantity = 4},
              .source = Source::kShelf, .purchase = {}};
  shelf.covers = {cover};
  EXPECT_EQ(shelf.lines().at(0).on_shelf, 1);
  EXPECT_GT(*shelf.lines().at(0).run_out, *coming.run_out) << "an order takes four of five";
}

TEST(StockList, BuysUpToTheUpperLevelInPacksWhenTheLowerOneIsReached) {
  Shelf shelf{.used = taken(40, 2)};
  shelf.stock = {{kTube, 0, {}}};
  const StockLine line = shelf.lines().at(0);
  ASSERT_LE(0, line.levels.at) << "a dear lack keeps pieces on the shelf";
  EXPECT_GE(line.to_buy, line.levels.up_to);
  EXPECT_LT(line.to_buy, line.levels.up_to + 5);
  EXPECT_EQ(line.to_buy % 5, 0);
  shelf.stock = {{kTube, line.levels.at + 1, {}}};
  EXPECT_EQ(shelf.lines().at(0).to_buy, 0);
}

TEST(StockList, MoreUseNeverLowersTheLevels) {
  int at = -100;
  int up_to = -100;
  for (const int every : {8, 4, 2, 1}) {
    const StockLine line = Shelf{.used = taken(25, every)}.lines().at(0);
    EXPECT_GE(line.levels.at, at) << every;
    EXPECT_GE(line.levels.up_to, up_to) << every;
    at = line.levels.at;
    up_to = line.levels.up_to;
  }
}

TEST(StockList, WhatIsDueGoesIntoTheBasketsForNoOrder) {
  Shelf shelf{.used = taken(40, 2)};
  shelf.stock = {{kTube, 0, {}}};
  const std::vector<StockLine> lines = shelf.lines();
  const std::vector<Cover> needs = stock_needs(lines, shelf.question());
  ASSERT_EQ(needs.size(), 1U);
  const std::vector<trade::Supplier> suppliers = {{.id = SupplierId("cheap"), .name = "Cheap"},
                                                  {.id = SupplierId("dear"), .name = "Dear"}};
  const BuyingPlan plan = plan_buying({needs, kOffers, suppliers, shelf.purchases,
                                       shelf.lead_times},
                                      {.today = kToday, .minute = 9 * 60, .closed = {}});
  ASSERT_EQ(plan.baskets.size(), 1U);
  const PurchaseProposal& bought = plan.baskets[0].lines.at(0);
  EXPECT_EQ(bought.for_stock, lines[0].to_buy);
  EXPECT_TRUE(bought.orders.empty());
  EXPECT_FALSE(bought.too_late);
  EXPECT_LE(bought.buy_on, add_working_days(kToday, 1));
  EXPECT_TRUE(plan.kits.empty()) << "no bike waits for it";
}

}  // namespace
}  // namespace rollwright::supply
