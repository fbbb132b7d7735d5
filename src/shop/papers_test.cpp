#include <gtest/gtest.h>

#include "shop/bench_desk.hpp"
#include "shop/bench_papers.hpp"
#include "shop/demo_shop.hpp"

namespace rollwright::shop {
namespace {

// An e-bike of the demo that is being built.
constexpr const char* kPaperBike = "2016";

TEST(Papers, AHistoryIsPrintedOfABikeWithAndWithoutARecord) {
  const auto shop = demo();
  const auto before = shop->bench().history_pdf(kPaperBike);
  ASSERT_TRUE(before) << before.error().full();
  EXPECT_TRUE(before->starts_with("%PDF"));
  ASSERT_TRUE(shop->bench().write(kPaperBike,
                                  {.who = "mara", .deeds = {{.deed = "noted", .note = "seen"}}}));
  EXPECT_NE(*before, shop->bench().history_pdf(kPaperBike).value());
}

TEST(Papers, WhatWasPrintedLastIsTheHashThatTheJournalGoesOnFrom) {
  const auto shop = demo();
  const std::string hash = shop->verify().value().last_hash;
  ASSERT_TRUE(shop->bench().write(kPaperBike,
                                  {.who = "mara", .deeds = {{.deed = "noted", .note = "seen"}}}));
  EXPECT_TRUE(shop->verify(hash).value().whole);
}

TEST(Papers, ABikeThatIsNotAgreedHasNoOwnersPack) {
  Shop& shop = shared_demo();
  const auto orders = shop.orders().value();
  for (const OrderLine& line : orders) {
    const bool none = line.state == "Enquiry" || line.state == "Draft" || line.state == "Offer";
    EXPECT_EQ(shop.bench().owners_pack_pdf(line.id).has_value(), !none) << line.id << line.state;
  }
  EXPECT_EQ(shop.bench().owners_pack_pdf("9999").error().code, Code::kNotFound);
}

}  // namespace
}  // namespace rollwright::shop
