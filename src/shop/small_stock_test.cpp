#include <algorithm>

#include <gtest/gtest.h>

#include "shop/demo_shop.hpp"

// What the repairs of the demo took is invented, like all of data/demo.
namespace rollwright::shop {
namespace {

const StockLineView* line_of(const SmallStockView& view, const std::string& part) {
  const auto found = std::ranges::find(view.lines, part, &StockLineView::part);
  return found == view.lines.end() ? nullptr : &*found;
}

TEST(SmallStock, PartsUsedOftenHaveLevelsAndThoseDueStandFirst) {
  const SmallStockView view = shared_demo().small_stock().value();
  ASSERT_FALSE(view.lines.empty());
  EXPECT_FALSE(view.sentence.empty());
  bool due = true;
  for (const StockLineView& line : view.lines) {
    EXPECT_LT(line.at, line.up_to) << line.part;
    EXPECT_EQ(line.to_buy > 0, line.free + line.under_way - line.taken <= line.at) << line.part;
    EXPECT_TRUE(due || line.to_buy == 0) << line.part;
    EXPECT_GT(line.at_hand, 0.5) << line.part;
    EXPECT_GT(line.per_week, 0) << line.part;
    EXPECT_NE(line.why.find(line.used), std::string::npos) << line.part;
    ASSERT_TRUE(line.run_out && line.next_by) << line.part;
    EXPECT_GE(*line.run_out, 0) << line.part;
    EXPECT_LE(*line.run_out, 1) << line.part;
    EXPECT_EQ(line.next_line.has_value(), line.next.starts_with("line ")) << line.next;
    due = line.to_buy > 0;
  }
}

TEST(SmallStock, WhatIsDueIsOnTheBuyingListWithItsReason) {
  const SmallStockView stock = shared_demo().small_stock().value();
  const BuyView buying = shared_demo().buy().value();
  for (const StockLineView& line : stock.lines) {
    int bought = 0;
    for (const BuyGroup& group : buying.groups) {
      for (const BuyLine& each : group.lines) {
        if (each.part == line.part && each.why == line.why) bought += each.needed;
      }
    }
    EXPECT_GE(bought, line.to_buy) << line.part;
    EXPECT_EQ(bought > 0, line.to_buy > 0) << line.part;
  }
}

TEST(SmallStock, TakingPiecesIsWrittenDownAndCountsFromThenOn) {
  const auto shop = demo();
  const int before = shop->part("TU-0002").value().row.on_shelf;
  const StockLineView was = *line_of(shop->small_stock().value(), "TU-0002");
  const auto part = shop->use_up("TU-0002", {.quantity = 1, .what_for = "repair"}, "desk");
  EXPECT_EQ(part.value().row.on_shelf, before - 1);
  const StockLineView now = *line_of(shop->small_stock().value(), "TU-0002");
  EXPECT_EQ(now.free, was.free - 1);
  EXPECT_NE(now.why, was.why);
  ASSERT_TRUE(shop->use_up("TU-0002", {.quantity = 1, .what_for = "repair"}, "desk"))
      << "again the same day";
  EXPECT_EQ(line_of(shop->small_stock().value(), "TU-0002")->free, was.free - 2);
  EXPECT_TRUE(shop->verify().value().whole);
}

TEST(SmallStock, RunsOutMoreOftenTheLessThereIs) {
  const auto shop = demo();
  const StockLineView was = *line_of(shop->small_stock().value(), "TU-0002");
  ASSERT_GT(was.free, 0);
  ASSERT_TRUE(shop->use_up("TU-0002", {.quantity = was.free, .what_for = "repair"}, "desk"));
  const StockLineView now = *line_of(shop->small_stock().value(), "TU-0002");
  EXPECT_GT(*now.run_out, *was.run_out);
  EXPECT_GT(now.to_buy, 0);
}

TEST(SmallStock, SaysFromWhenOnThereAreLevelsWhereThereAreNone) {
  const auto shop = Shop::open({.trade_folder = ROLLWRIGHT_ROOT "/data/trade", .book = ":memory:"},
                               kClock, true);
  ASSERT_TRUE(shop) << shop.error().full();
  const SmallStockView view = (*shop)->small_stock().value();
  EXPECT_TRUE(view.lines.empty());
  EXPECT_EQ(view.sentence, "No part has enough use on file to reckon a small stock from.");
  EXPECT_EQ(view.how, "A part has levels once it was taken off the free shelf on 6 occasions "
                      "within 250 working days.");
}

TEST(SmallStock, RefusesToTakeWhatIsNotFree) {
  const auto shop = demo();
  const auto code = [&shop](const char* part, int quantity) {
    const auto taken = shop->use_up(part, {.quantity = quantity, .what_for = {}}, "desk");
    return taken ? Code::kDamaged : taken.error().code;
  };
  EXPECT_EQ(code("XX-0001", 1), Code::kNotFound);
  EXPECT_EQ(code("TU-0001", 0), Code::kOutOfRange);
  EXPECT_EQ(code("TU-0001", 99), Code::kRefused);
  EXPECT_EQ(code("BK-0006", 1), Code::kRefused) << "both pieces are put by";
  EXPECT_FALSE(shop->use_up("TU-0001", {.quantity = 1, .what_for = "two\nlines"}, "desk"));
}

}  // namespace
}  // namespace rollwright::shop
