#pragma once

#include <memory>
#include <string>

#include <gtest/gtest.h>

#include "shop/shop.hpp"

/// The demo of data/demo for tests. Everything in it is invented.
namespace rollwright::shop {

inline const FixedClock kClock(parse_instant("2026-11-25T07:45:00Z").value());

inline std::unique_ptr<Shop> open_demo(const std::string& book, bool create) {
  auto shop =
      Shop::open({.trade_folder = ROLLWRIGHT_ROOT "/data/trade", .book = book}, kClock, create);
  EXPECT_TRUE(shop) << shop.error().full();
  return std::move(*shop);
}

/// A shop of its own over a fresh book.
inline std::unique_ptr<Shop> demo(const std::string& book = ":memory:") {
  auto shop = open_demo(book, true);
  const auto report = shop->import(ROLLWRIGHT_ROOT "/data/demo", "owner");
  EXPECT_TRUE(report && report->imported) << (report ? report->problems.front() : "");
  return shop;
}

/// Imported once; for looking only.
inline Shop& shared_demo() {
  static const std::unique_ptr<Shop> kShop = demo();
  return *kShop;
}

inline NewOrder new_order(const char* build) {
  NewOrder order{.build = build};
  order.rider = {.name = "Test Rider", .height_mm = 1700, .inseam_mm = 790, .mass_kg = 74};
  order.need = {.words = "invented", .luggage_kg = 10, .region = "EU", .assist_class = "25 km/h",
                .front_brake_lever = "left"};
  return order;
}

/// Puts every choice of a whole demo order onto a new one.
inline std::string like(Shop& shop, const std::string& model) {
  const OrderView view = shop.order(model).value();
  NewOrder order = new_order(view.build_id.c_str());
  for (const SlotView& slot : view.spec.slots) {
    if (slot.part) order.choices[slot.slot] = slot.part->id;
  }
  return shop.new_order(order, "desk").value().line.id;
}

}  // namespace rollwright::shop
