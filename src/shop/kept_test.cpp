#include <fstream>

#include <gtest/gtest.h>

#include "shop/demo_shop.hpp"

// On the demo of data/demo, which is invented.
namespace rollwright::shop {
namespace {

/// Ready and kept rows of promises.csv, counted without the reader of shop files.
std::pair<int, int> counted() {
  std::ifstream file(ROLLWRIGHT_ROOT "/data/demo/promises.csv");
  std::string line;
  int ready = 0;
  int kept = 0;
  while (std::getline(file, line)) {
    if (line.empty() || line[0] == '#' || line.starts_with("order,")) continue;
    const std::string last = line.substr(line.rfind(',') + 1);
    if (last.empty()) continue;
    const std::size_t first = line.find(',');
    const std::size_t second = line.find(',', first + 1);
    const std::string promised = line.substr(second + 1, 10);
    ++ready;
    if (last <= promised) ++kept;
  }
  return {ready, kept};
}

TEST(Kept, CountsWhatWasKept) {
  const KeptView view = shared_demo().kept().value();
  const auto [ready, kept] = counted();
  EXPECT_EQ(view.all.promises, ready);
  EXPECT_EQ(view.all.kept, kept);
  EXPECT_EQ(static_cast<int>(view.lines.size()), ready);
  int in_bands = 0;
  for (const KeptBandView& band : view.bands) {
    in_bands += band.promises;
    EXPECT_LE(band.least, band.most);
  }
  EXPECT_EQ(in_bands, ready);
  int in_months = 0;
  for (const KeptMonthView& month : view.months) in_months += month.promises;
  EXPECT_EQ(in_months, ready);
  // A later day is kept at least as often.
  ASSERT_EQ(view.other_ways.size(), 3u);
  EXPECT_LE(view.other_ways[0].kept, view.other_ways[1].kept);
  EXPECT_LE(view.other_ways[0].kept, view.other_ways[2].kept);
}

TEST(Kept, ReplaysDeliveriesWithOddsThatHoldRoughly) {
  const KeptView view = shared_demo().kept().value();
  EXPECT_GT(view.deliveries, 300);
  ASSERT_EQ(view.delivery_bands.size(), 4u);
  for (const DeliveryBandView& band : view.delivery_bands) {
    // Whole days: the first day that has the chance has more than it, where two or three days hold
    // most of the deliveries a good deal more.
    EXPECT_GT(band.share, band.in_100 / 100.0 - 0.05) << band.in_100;
    EXPECT_LT(band.share, band.in_100 / 100.0 + 0.20) << band.in_100;
  }
}

TEST(Kept, AgreeingWritesDownTheOddsOfTheDay) {
  const auto shop = demo();
  const int open = shop->kept().value().open;
  bool agreed = false;
  const std::vector<OrderLine> lines = shop->orders().value();
  for (const OrderLine& line : lines) {
    if (agreed || (line.state != "Offer" && line.state != "Draft")) continue;
    const auto odds = shop->promise(line.id, 1000);
    const OrderView order = shop->order(line.id).value();
    agreed = odds && shop->agree(line.id, odds->day_90, 10000, order.revision, "desk");
  }
  ASSERT_TRUE(agreed);
  EXPECT_EQ(shop->kept().value().open, open + 1);
  EXPECT_TRUE(shop->verify().value().whole);
}

}  // namespace
}  // namespace rollwright::shop
