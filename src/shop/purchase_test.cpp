#include <algorithm>

#include <gtest/gtest.h>

#include "shop/demo_shop.hpp"

// On the demo of data/demo, which is invented.
namespace rollwright::shop {
namespace {

/// What the buying list would order first.
PurchaseGiven all_of(const BuyGroup& group) {
  PurchaseGiven given{.supplier = group.supplier};
  for (const BuyLine& line : group.lines) given.lines.push_back({line.part, line.quantity});
  return given;
}

/// (order, part) that the buying list asks for.
std::vector<std::pair<std::string, std::string>> wanted(const BuyView& view) {
  std::vector<std::pair<std::string, std::string>> wanted;
  for (const BuyGroup& group : view.groups) {
    for (const BuyLine& line : group.lines) {
      for (const std::string& order : line.orders) wanted.emplace_back(order, line.part);
    }
  }
  std::ranges::sort(wanted);
  return wanted;
}

TEST(Purchase, WhatIsPlacedIsOnTheListNoMoreAndComesForItsOrders) {
  const auto shop = demo();
  const BuyView before = shop->buy().value();
  ASSERT_FALSE(before.groups.empty());
  const BuyGroup& group = before.groups.front();
  const std::int64_t entries = shop->verify().value().entries;
  const PlacedView placed = shop->place(all_of(group), "desk").value();
  EXPECT_EQ(shop->verify().value().entries - entries,
            static_cast<std::int64_t>(placed.lines.size()));
  EXPECT_EQ(placed.goods_cents, group.goods_cents);
  const auto after = wanted(shop->buy().value());
  for (const BuyLine& line : group.lines) {
    int came = 0;
    for (const PlacedLineView& one : placed.lines) {
      if (one.part == line.part) came += one.quantity;
    }
    EXPECT_EQ(came, line.quantity) << line.part;
    for (const std::string& order : line.orders) {
      EXPECT_FALSE(std::ranges::binary_search(after, std::pair(order, line.part)))
          << order << " " << line.part;
    }
  }
  for (const PlacedLineView& one : placed.lines) {
    const ArrivalLine line = shop->arrival(one.id).value();
    EXPECT_EQ(line.state, "Placed");
    EXPECT_EQ(line.to_come, one.quantity);
    EXPECT_EQ(line.order, one.order);
  }
}

TEST(Purchase, WhatIsGivenUpIsToBuyAgain) {
  const auto shop = demo();
  const BuyView before = shop->buy().value();
  const PlacedView placed = shop->place(all_of(before.groups.front()), "desk").value();
  for (const PlacedLineView& line : placed.lines) {
    EXPECT_EQ(shop->give_up(line.id, "the supplier has none", "desk").value().state, "Cancelled");
  }
  EXPECT_EQ(wanted(shop->buy().value()), wanted(before));
  const auto again = shop->give_up(placed.lines[0].id, "", "desk");
  ASSERT_FALSE(again);
  EXPECT_EQ(again.error().code, Code::kRefused);
}

TEST(Purchase, PiecesBeyondTheOrdersAreForTheShelf) {
  const auto shop = demo();
  const BuyView list = shop->buy().value();
  for (const BuyGroup& group : list.groups) {
    for (const BuyLine& line : group.lines) {
      if (line.orders.size() != 1 || line.quantity != line.needed) continue;
      const PlacedView placed =
          shop->place({.supplier = group.supplier, .lines = {{line.part, 2 * line.quantity}}},
                      "desk")
              .value();
      ASSERT_EQ(placed.lines.size(), 2U);
      EXPECT_EQ(placed.lines[0].order, line.orders[0]);
      EXPECT_EQ(placed.lines[1].order, std::nullopt);
      EXPECT_EQ(placed.lines[1].quantity, line.quantity);
      return;
    }
  }
  FAIL() << "the demo buys nothing for one order alone";
}

TEST(Purchase, ADayThatTheSupplierNamedIsConfirmed) {
  const auto shop = demo();
  PurchaseGiven given = all_of(shop->buy().value().groups.front());
  given.confirmed = parse_day("2026-12-10").value();
  const PlacedView placed = shop->place(given, "desk").value();
  const ArrivalLine line = shop->arrival(placed.lines[0].id).value();
  EXPECT_EQ(line.state, "Confirmed");
  EXPECT_EQ(line.confirmed, given.confirmed);
}

TEST(Purchase, RefusesInASentence) {
  Shop& shop = shared_demo();
  const BuyGroup group = shop.buy().value().groups.front();
  const PurchaseGiven good = all_of(group);
  const std::int64_t entries = shop.verify().value().entries;
  const auto refused = [&](const PurchaseGiven& given, Code code, const std::string& words) {
    const auto placed = shop.place(given, "desk");
    ASSERT_FALSE(placed);
    EXPECT_EQ(placed.error().code, code) << placed.error().sentence;
    EXPECT_NE(placed.error().sentence.find(words), std::string::npos) << placed.error().sentence;
  };
  PurchaseGiven bad = good;
  bad.supplier = "nobody";
  refused(bad, Code::kNotFound, "no supplier");
  bad = good;
  bad.lines.clear();
  refused(bad, Code::kBadInput, "which parts");
  bad = good;
  bad.lines.push_back(bad.lines.front());
  refused(bad, Code::kBadInput, "twice");
  bad = good;
  bad.lines.front().quantity = 0;
  refused(bad, Code::kOutOfRange, "pieces");
  bad = good;
  bad.lines.front().part = "XX-0000";
  refused(bad, Code::kNotFound, "no part");
  bad = good;
  bad.mode = "pigeon";
  refused(bad, Code::kNotFound, "mode");
  bad = good;
  bad.confirmed = parse_day("2026-11-24").value();
  refused(bad, Code::kOutOfRange, "today or later");
  bad = good;
  bad.note = "two\nlines";
  refused(bad, Code::kOutOfRange, "one line");
  EXPECT_EQ(shop.verify().value().entries, entries) << "nothing was written";
}

TEST(Purchase, WhatCameInPartCannotBeGivenUp) {
  const auto shop = demo();
  ASSERT_TRUE(shop->receive("P-3163", {.quantity = 3, .lot = "L 7"}, "desk"));
  const auto refused = shop->give_up("P-3163", "", "desk");
  ASSERT_FALSE(refused);
  EXPECT_NE(refused.error().sentence.find("goods-in"), std::string::npos);
}

}  // namespace
}  // namespace rollwright::shop
