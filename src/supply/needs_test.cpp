#include <map>

#include <gtest/gtest.h>

#include "base/random.hpp"
#include "supply/needs.hpp"

// All suppliers, parts and orders in these tests are invented.
namespace rollwright::supply {
namespace {

using trade::OrderId;
using trade::PartId;

Day day(const char* text) { return parse_day(text).value(); }
const Day kToday = day("2026-11-25");

TEST(Cover, NeverTakesWhatCarriesAnothersName) {
  const std::vector<Need> needs = {
      {.order = OrderId("1"), .part = PartId("hub"), .quantity = 1, .needed_by = kToday},
      {.order = OrderId("2"), .part = PartId("hub"), .quantity = 1,
       .needed_by = kToday + std::chrono::days(9)}};
  const auto covers = cover(needs, {{PartId("hub"), 1, {{OrderId("2"), 1}}}}, {});
  ASSERT_EQ(covers.size(), 2u);
  for (const Cover& c : covers) {
    EXPECT_EQ(c.source, c.need.order == OrderId("2") ? Source::kShelf : Source::kToBuy);
  }
}

// Property over random shops: pieces add up, nothing is given twice, names are kept.
TEST(Cover, AddsUpInEveryShop) {
  for (std::uint64_t seed = 1; seed <= 300; ++seed) {
    SCOPED_TRACE(seed);
    Random random(seed);
    std::vector<Need> needs;
    std::vector<trade::Stock> stock;
    std::vector<trade::PurchaseLine> purchases;
    for (int p = 0; p < 4; ++p) {
      const PartId part("p" + std::to_string(p));
      trade::Stock held{part, static_cast<int>(random.below(5)), {}};
      if (held.on_shelf > 0 && random.below(2) == 0) held.put_by = {{OrderId("o1"), 1}};
      stock.push_back(held);
      for (int k = 0; k < 2; ++k) {
        trade::PurchaseLine line{.id = part.text + std::to_string(k), .part = part,
                                 .quantity = static_cast<int>(random.below(3)) + 1,
                                 .placed = kToday, .state = trade::PurchaseState::kPlaced};
        if (random.below(3) == 0) line.order = OrderId("o2");
        if (random.below(4) == 0) line.state = trade::PurchaseState::kCancelled;
        purchases.push_back(line);
      }
      for (int o = 0; o < 4; ++o) {
        needs.push_back({.order = OrderId("o" + std::to_string(o)), .part = part,
                         .quantity = static_cast<int>(random.below(3)) + 1,
                         .needed_by = kToday + std::chrono::days(random.below(20))});
      }
    }
    std::map<std::pair<OrderId, PartId>, int> given;
    std::map<PartId, int> from_shelf;
    std::map<std::string, int> from_purchase;
    for (const Cover& c : cover(needs, stock, purchases)) {
      given[{c.need.order, c.need.part}] += c.need.quantity;
      if (c.source == Source::kShelf) from_shelf[c.need.part] += c.need.quantity;
      if (c.source == Source::kPurchase) {
        from_purchase[c.purchase] += c.need.quantity;
        for (const auto& line : purchases) {
          if (line.id != c.purchase) continue;
          EXPECT_TRUE(trade::is_under_way(line.state));
          EXPECT_TRUE(!line.order || *line.order == c.need.order);
        }
      }
    }
    for (const Need& need : needs) EXPECT_EQ((given[{need.order, need.part}]), need.quantity);
    for (const auto& held : stock) EXPECT_LE(from_shelf[held.part], held.on_shelf);
    for (const auto& line : purchases) EXPECT_LE(from_purchase[line.id], line.quantity);
  }
}

}  // namespace
}  // namespace rollwright::supply
