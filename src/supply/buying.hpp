#pragma once

#include <string>
#include <vector>

#include "supply/lead_time.hpp"
#include "supply/needs.hpp"
#include "trade/supplier.hpp"

namespace rollwright::supply {

struct BuyingSettings {
  Day today = {};
  /// Chance that *all* parts of a kit are there on the day; each of n lines gets its n-th root.
  double kit_confidence = 0.90;
  std::vector<Day> closed;
};

/// One line to buy from one supplier, for one or more orders.
struct PurchaseProposal {
  trade::SupplierId supplier;
  trade::PartId part;
  int quantity = 1;               // rounded up to the supplier's pack
  std::vector<trade::OrderId> orders;
  Day needed_by = {};             // the earliest of them
  Day order_by = {};              // last day on which it still comes in time, at the confidence
  bool too_late = false;          // that day is over
  Money unit_cost;
  trade::Spread lead;             // working days
  double confidence = 0;          // wanted of this line
};

struct SupplierBasket {
  trade::SupplierId supplier;
  std::vector<PurchaseProposal> lines;
  Money goods;
  Money freight;
  Money surcharge;  // for an order below the supplier's minimum
};

struct BuyingPlan {
  std::vector<SupplierBasket> baskets;
  std::vector<Need> no_offer;  // nobody sells us these
};

/// What to buy, from whom, by when.
///
/// Method:   for each part, the pieces to buy of all orders together; among the suppliers that sell
///           it, the cheapest of those whose delivery at the wanted confidence keeps the earliest
///           day, or the soonest when none does. Price breaks count by the summed quantity. Lines
///           are then gathered by supplier, with freight and small-order charge.
/// Ignores:  that buying a line elsewhere could save a freight charge; baskets are not yet traded
///           off against each other.
[[nodiscard]] BuyingPlan plan_buying(const std::vector<Cover>& covers,
                                     const std::vector<trade::Offer>& offers,
                                     const std::vector<trade::Supplier>& suppliers,
                                     const LeadTimes& lead_times,
                                     const BuyingSettings& settings);

/// Cost of one piece when `quantity` are bought. The offer must have a break from 1.
[[nodiscard]] Money unit_cost(const trade::Offer& offer, int quantity);
[[nodiscard]] int in_packs(const trade::Offer& offer, int quantity);

}  // namespace rollwright::supply
