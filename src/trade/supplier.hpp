#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/clock.hpp"
#include "trade/order.hpp"
#include "trade/part.hpp"

namespace rollwright::trade {

struct Supplier {
  SupplierId id;
  std::string name;
  Money minimum_order;
  Money small_order_charge;
  Money free_freight_over;
  Money freight;
  int cut_off_minute = 14 * 60;  // minute of the day, local time
  int ship_days = 0x1f;          // bit 0 Monday ... bit 6 Sunday
};

struct PriceBreak {
  int from_quantity = 1;
  Money unit_cost;
};

/// What a supplier asks for a part.
struct Offer {
  SupplierId supplier;
  PartId part;
  std::string article;  // the supplier's own number
  std::vector<PriceBreak> breaks;  // rising quantities
  int pack = 1;                    // sold in multiples
  std::string availability = "stocked";  // stocked, importer, made
  Day as_of = {};
};

struct Stock {
  PartId part;
  int on_shelf = 0;
  std::vector<std::pair<OrderId, int>> put_by;  // for named orders, part of on_shelf
};

enum class PurchaseState {
  kWanted, kAsked, kPlaced, kConfirmed, kShipped, kAtGoodsIn, kAccepted, kPutBy, kFitted,
  kBackOrdered, kQuarantined, kSentBack, kCancelled,
};
[[nodiscard]] std::string_view word_of(PurchaseState state);
[[nodiscard]] std::optional<PurchaseState> purchase_state_named(std::string_view word);
/// Placed and not yet here: Asked to Shipped, and Back-ordered.
[[nodiscard]] bool is_under_way(PurchaseState state);

struct PurchaseLine {
  std::string id;
  SupplierId supplier;
  PartId part;
  int quantity = 1;
  std::optional<OrderId> order;  // bought for this order
  Day placed = {};
  std::optional<Day> confirmed;  // the supplier's word
  PurchaseState state = PurchaseState::kPlaced;
};

/// A delivery that came: the history from which lead times are learned.
struct Receipt {
  SupplierId supplier;
  PartId part;
  int quantity = 1;
  Day ordered = {};
  std::optional<Day> promised;
  Day received = {};
  std::string condition = "good";  // good, damaged, wrong, short
};

}  // namespace rollwright::trade
