#pragma once

#include <functional>
#include <string>
#include <vector>

#include "supply/baskets.hpp"
#include "supply/lead_time.hpp"
#include "supply/needs.hpp"
#include "trade/supplier.hpp"

namespace rollwright::supply {

struct BuyingSettings {
  Day today = {};
  int minute = 0;  // of today, local time: past a supplier's cut-off an order goes out tomorrow
  /// Chance that *all* parts of a kit that are still to buy are there on the day, in (0, 1).
  double kit_confidence = 0.90;
  /// What money tied up for a year costs, as a share; common practice 10 to 25 in 100.
  double holding_per_year = 0.15;
  /// Needs of one part within so many working days of the first are bought together.
  int together_days = 40;
  std::vector<Day> closed;
};

struct BuyingInput {
  const std::vector<Cover>& covers;
  const std::vector<trade::Offer>& offers;
  const std::vector<trade::Supplier>& suppliers;
  const std::vector<trade::PurchaseLine>& purchases;  // those of the covers
  const LeadTimes& lead_times;
  /// How the baskets are found; whoever asks again and again hands in a memory around it.
  std::function<BasketAnswer(const BasketQuestion&)> solve = cheapest_baskets;
};

/// One line to buy from one supplier, for one or more orders.
struct PurchaseProposal {
  trade::SupplierId supplier;
  trade::PartId part;
  int needed = 1;                 // pieces
  int for_stock = 0;              // of these for the shelf, for no order
  int quantity = 1;               // in packs; more than needed where a price break pays for it
  std::vector<trade::OrderId> orders;
  Day needed_by = {};             // the earliest of them
  Day order_by = {};              // last day on which it is best ordered for its kits
  Day buy_on = {};                // when it is best bought; never after order_by unless too late
  bool too_late = false;          // ordered at once it is less sure by itself than its kit is wanted;
                                  // order_by is then the day on which it was sure enough
  Money unit_cost;
  DayOdds odds;                   // working days from the order to a good part in hand
  std::string basis;              // of the odds, in words
  double confidence = 0;          // of being there in time when ordered on order_by
  double in_time = 0;             // chance of being there by needed_by when bought on buy_on
};

/// One order to one supplier.
struct SupplierBasket {
  trade::SupplierId supplier;
  Day day = {};
  std::vector<PurchaseProposal> lines;
  Money goods;
  Money freight;
  Money surcharge;  // for an order below the supplier's minimum
};

/// How sure a kit is that is not all in hand.
struct KitOdds {
  trade::OrderId order;
  Day day = {};            // on which it has to be complete
  int to_buy = 0;          // lines without which the build cannot start
  int under_way = 0;
  double complete = 1;     // chance on that day, if all is bought as proposed
  trade::PartId weakest;   // the line least likely to be there
  double weakest_there = 1;
};

struct BuyingPlan {
  std::vector<SupplierBasket> baskets;  // by day, then supplier
  std::vector<KitOdds> kits;            // by day, then order
  std::vector<Need> no_offer;           // nobody sells us these
  Money cost;                           // goods, freight and charges of all baskets
  Money when_needed;                    // the same when each line is bought by itself when needed
  bool proven = true;                   // nothing cheaper exists under the settings
};

/// What to buy, from whom, on which day.
///
/// Method:   for each part, the pieces of all orders to buy, in lots that lie close together.
///           Suppliers who cannot keep the kit's day with the chance that all its lines would need
///           alike are left out while one can; else the one who is soonest is taken. Then
///           cheapest_baskets over all lines. For the suppliers chosen, each kit's days are those on
///           which its parts lie the shortest (kit_days): what is dear is bought to come last, and
///           when it is here, or confirmed, the rest is called in. Then the baskets once more, with
///           those days as the last ones. A lot goes by the kit that asks soonest.
/// Accuracy: the chance of a kit is exact for the odds, one day being as good as another.
/// Ignores:  for the days, that a supplier's deliveries of a week may be late together (the chance
///           told of a kit counts it); days on which a supplier does not ship (learned lead times
///           hold the wait for them already).
[[nodiscard]] BuyingPlan plan_buying(const BuyingInput& input, const BuyingSettings& settings);

/// Cost of one piece when `quantity` are bought. The offer must have a break from 1.
[[nodiscard]] Money unit_cost(const trade::Offer& offer, int quantity);
[[nodiscard]] int in_packs(const trade::Offer& offer, int quantity);
/// Pieces to ask for when `needed` are needed: in packs, and up to a price break when that costs
/// less in all.
[[nodiscard]] int cheapest_quantity(const trade::Offer& offer, int needed);

}  // namespace rollwright::supply
