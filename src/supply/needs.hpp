#pragma once

#include <optional>
#include <string>
#include <vector>

#include "trade/supplier.hpp"
#include "trade/trade.hpp"

namespace rollwright::supply {

/// A part that a live order needs in hand, from its specification.
struct Need {
  trade::OrderId order;
  trade::PartId part;
  int quantity = 1;
  Day needed_by = {};
  bool may_follow = false;  // building can start without it
};

/// Where the pieces of a need come from.
enum class Source { kShelf, kPurchase, kToBuy };
struct Cover {
  Need need;        // quantity: of this piece of the need
  Source source = Source::kToBuy;
  std::string purchase;  // its id, when it is under way
  bool put_by = false;   // already reserved by name
};

/// An order that gathers parts, and by when.
struct Wanting {
  trade::Order order;
  Day kit = {};     // all parts without which the build cannot start
  Day follow = {};  // those that may follow (pedals, bell, bag); not before `kit`
};

/// What the orders need by when, from their choices and the quantities of the slots. Orders that
/// are not live, and parts whose order has used them (its kit is built), are left out by the
/// caller.
[[nodiscard]] std::vector<Need> explode(const trade::Trade& trade,
                                        const std::vector<trade::Part>& parts,
                                        const std::vector<Wanting>& orders);

/// Who gets what. First what is put by or bought for the order by name; then the free shelf, then
/// free purchases by their day, each to the need that is due first (then by order id); the rest is
/// to buy. Nothing that carries another order's name is ever taken.
///
/// Invariants (tested): the pieces of a need add up to it; no shelf or purchase gives more than it
/// holds.
[[nodiscard]] std::vector<Cover> cover(const std::vector<Need>& needs,
                                       const std::vector<trade::Stock>& stock,
                                       const std::vector<trade::PurchaseLine>& purchases);

}  // namespace rollwright::supply
