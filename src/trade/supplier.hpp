#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "base/clock.hpp"
#include "trade/goods_in.hpp"
#include "trade/order.hpp"
#include "trade/part.hpp"

namespace rollwright::trade {

/// A way on which a supplier's goods can come by freight; the goods are first got ready.
struct FreightWay {
  std::string mode;                // "sea": what a person calls it; each once for a supplier
  std::string carrier = "parcel";  // of all_carriers(), not "any": whose claim windows count
  std::vector<std::string> legs;   // names of data/trade/freight_legs.csv, in their order
  double ready_low = 1;            // calendar days until the goods leave the supplier: one in ten
  double ready_high = 2;           // takes less than low, one in ten more than high
  Money price;                     // of one consignment
  Money per_kg;                    // of its mass, beside that
  /// Offers that come this way, by their availability (stocked, importer, made); empty: all.
  std::vector<std::string> availability;
};

struct Supplier {
  SupplierId id;
  std::string name;
  Money minimum_order;
  Money small_order_charge;
  Money free_freight_over;
  Money freight;
  int cut_off_minute = 14 * 60;  // minute of the day, local time
  int ship_days = 0x1f;          // bit 0 Monday ... bit 6 Sunday
  std::vector<FreightWay> ways;  // the usual one of each availability first; none: own delivery
  std::map<Trouble, int> claim_days;  // the supplier's own terms, which go before the usual ones
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
/// Pieces on the shelf for no order; never less than 0.
[[nodiscard]] int free_pieces(const Stock& stock);

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
  std::string mode;                // of freight; empty: the supplier's usual
  std::vector<LegDone> legs;       // behind the goods, in their order
  std::optional<Day> placed_again;  // when pieces that went back were sent for once more
  std::optional<GoodsIn> came;     // nothing until something came
  std::vector<Marked> marked;
  std::vector<Claim> claims;
};

/// Where the pieces of a line are: as counted, or as its state says where nothing was counted.
[[nodiscard]] GoodsIn goods_in_of(const PurchaseLine& line);
/// Pieces that are under way or wait to be looked at; 0 for a line that was not placed or is over.
[[nodiscard]] int pieces_to_come(const PurchaseLine& line);
/// The day from which the wait for what is still to come counts.
[[nodiscard]] Day waited_since(const PurchaseLine& line);

/// Pieces taken off the free shelf for a repair or the bench: the history of small stock.
struct Used {
  PartId part;
  Day day = {};
  std::string what_for;  // "repair"; takings of one part, day and purpose are one
  int quantity = 1;
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
