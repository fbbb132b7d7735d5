#include "trade/label_sheet.hpp"

#include <gtest/gtest.h>

#include "trade/load_trade.hpp"

namespace rollwright::trade {
namespace {

const std::vector<LabelSheet>& sheets() {
  static const LoadedTrade kLoaded = load_trade(ROLLWRIGHT_ROOT "/data/trade");
  return kLoaded.trade.label_sheets;
}

TEST(LabelSheet, BeginsWhereAHalfUsedSheetIsFree) {
  const LabelSheet* sheet = find_label_sheet(sheets(), "a4-3x8");
  ASSERT_NE(sheet, nullptr);
  const LabelPlace first = place_of(*sheet, 5, 0);
  EXPECT_EQ(first.page, 1);
  EXPECT_EQ(first.position, 5);
  EXPECT_EQ(first.x_mm, 70) << "the middle of the second row";
  EXPECT_EQ(first.y_mm, 37.5);
  const LabelPlace next_page = place_of(*sheet, 5, 20);
  EXPECT_EQ(next_page.page, 2);
  EXPECT_EQ(next_page.position, 1);
  EXPECT_EQ(pages_for(*sheet, 5, 20), 1);
  EXPECT_EQ(pages_for(*sheet, 5, 21), 2);
  EXPECT_EQ(pages_for(*sheet, 5, 0), 0);
}

TEST(LabelSheet, EveryLabelLiesOnItsPageAndBesideTheOthers) {
  ASSERT_GE(sheets().size(), 10U);
  for (const LabelSheet& sheet : sheets()) {
    for (int i = 0; i < sheet.labels(); ++i) {
      const LabelPlace place = place_of(sheet, 1, i);
      EXPECT_EQ(place.page, 1) << sheet.id;
      EXPECT_LE(place.x_mm + sheet.label_width_mm, sheet.page_width_mm + 0.01) << sheet.id;
      EXPECT_LE(place.y_mm + sheet.label_height_mm, sheet.page_height_mm + 0.01) << sheet.id;
      if (i == 0) continue;
      const LabelPlace before = place_of(sheet, 1, i - 1);
      const bool is_right = place.x_mm >= before.x_mm + sheet.label_width_mm - 1e-9;
      const bool is_below = place.y_mm >= before.y_mm + sheet.label_height_mm - 1e-9;
      EXPECT_TRUE(is_right || is_below) << sheet.id << " " << i;
    }
  }
}

TEST(LabelSheet, LiesInTheMiddleOfItsPaper) {
  for (const LabelSheet& sheet : sheets()) {
    const LabelPlace last = place_of(sheet, 1, sheet.labels() - 1);
    EXPECT_NEAR(last.x_mm + sheet.label_width_mm, sheet.page_width_mm - sheet.left_mm, 0.05) << sheet.id;
    EXPECT_NEAR(last.y_mm + sheet.label_height_mm, sheet.page_height_mm - sheet.top_mm, 0.5) << sheet.id;
  }
}

}  // namespace
}  // namespace rollwright::trade
