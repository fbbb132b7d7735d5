#include <regex>

#include <gtest/gtest.h>

#include "shop/demo_shop.hpp"

// What the demo shop waits for, as lead times are learned from it. Everything in it is invented.
namespace rollwright::shop {
namespace {

/// What the lead time of a part rests on: receipts of its kind, and lines not here yet.
std::pair<int, int> counted_behind(Shop& shop, const char* part, const char* supplier) {
  const PartView view = shop.part(part).value();
  for (const OfferView& offer : view.offers) {
    if (offer.supplier != supplier) continue;
    std::smatch receipts;
    std::smatch open;
    const bool has_receipts =
        std::regex_search(offer.basis, receipts, std::regex("^(\\d+) receipts? of"));
    const bool has_open =
        std::regex_search(offer.basis, open, std::regex("; and (\\d+) lines? of .* not here yet"));
    return {has_receipts ? std::stoi(receipts[1]) : 0, has_open ? std::stoi(open[1]) : 0};
  }
  ADD_FAILURE() << "no offer of " << part;
  return {};
}

TEST(StillOpen, WhatComesIsAReceiptAndOpenNoMore) {
  const auto shop = demo();
  const auto [receipts, open] = counted_behind(*shop, "RO-0005", "Nordal Wholesale");
  ASSERT_GT(open, 0) << "P-3163 waits since 23 November";
  const Received some{.quantity = 3, .serials = {}, .lot = {}};
  ASSERT_TRUE(shop->receive("P-3163", some, "desk"));
  const auto [more_receipts, less_open] = counted_behind(*shop, "RO-0005", "Nordal Wholesale");
  EXPECT_EQ(more_receipts, receipts + 1);
  EXPECT_EQ(less_open, open - 1) << "what came in part is known";
  // Counted wrong: it never came, and waits again.
  const MiscountGiven never{.counted = 3, .right = 0, .day = {}, .serials = {}, .right_line = {},
                            .why = "the next line's"};
  ASSERT_TRUE(shop->miscounted("P-3163", never, "desk"));
  EXPECT_EQ(counted_behind(*shop, "RO-0005", "Nordal Wholesale"), std::pair(receipts, open));
}

TEST(StillOpen, WhatIsGivenUpIsWaitedForNoMore) {
  const auto shop = demo();
  const auto before = counted_behind(*shop, "MG-0001", "Nordal Wholesale");
  ASSERT_TRUE(shop->give_up("P-3107", "", "desk"));
  const auto after = counted_behind(*shop, "MG-0001", "Nordal Wholesale");
  EXPECT_EQ(after.first, before.first);
  EXPECT_EQ(after.second, before.second - 1);
}

}  // namespace
}  // namespace rollwright::shop
