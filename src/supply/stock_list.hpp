#pragma once

#include <optional>
#include <string>
#include <vector>

#include "supply/lead_time.hpp"
#include "supply/needs.hpp"
#include "supply/small_stock.hpp"
#include "trade/supplier.hpp"

namespace rollwright::supply {

/// What keeping, buying and lacking small stock costs. Planning estimates: a further line of an order
/// 4.00 of handling and freight; money tied up as in buying.hpp; a small part that is lacking holds a
/// bike at 40.00 a week. A shop's own figures go first.
struct StockTerms {
  Money order_cost = {400};
  double holding_per_year = 0.15;
  Money lacking_per_day = {800};
  int window_days = 250;     // working days of use that count
  int fewest_occasions = 6;  // below that nothing is reckoned
};

struct StockQuestion {
  const std::vector<trade::Used>& used;
  const std::vector<trade::Stock>& stock;
  const std::vector<trade::PurchaseLine>& purchases;
  const std::vector<trade::Offer>& offers;
  const std::vector<Cover>& covers;  // what orders take of free pieces
  const LeadTimes& lead_times;
  Day today = {};
  const std::vector<Day>& closed;
};

/// A part that is used up apart from orders, and when to buy it again.
struct StockLine {
  trade::PartId part;
  trade::SupplierId supplier;  // the cheapest, whose lead time counts
  StockLevels levels;
  double at_hand = 0;  // share of the time with a piece on the shelf, under these levels
  int free = 0;        // on the shelf, for no order
  int under_way = 0;   // bought for no order
  int taken = 0;       // of these: by orders, as things stand
  int to_buy = 0;      // up to the upper level, in packs; 0 when the lower one is not reached
  int occasions = 0;
  int pieces = 0;      // used on these
  Day since = {};
  double per_week = 0;  // pieces in five working days
  int on_shelf = 0;     // of `free`, what orders leave there
  std::string next;     // the purchase line that comes next, the soonest at the middle; empty: one
                        // that were ordered today
  int next_days = 0;    // working days until it is here, nine in ten
  /// Chance that until then more is asked for than lies there; nothing where no end can be said.
  std::optional<double> run_out;
};

/// Every part with enough use on file that somebody sells, by part.
///
/// Method:   occasions per working day and pieces per occasion as counted since the first use in the
///           window; levels by best_levels; what is free and under way less what orders take is held
///           against them. Running out: chance_lacking until the next delivery that is bought for
///           no order, else one that were ordered today. Ignores: what best_levels ignores; trend.
[[nodiscard]] std::vector<StockLine> stock_lines(const StockQuestion& question,
                                                 const StockTerms& terms = {});

/// Lines that are due, as needs of no order, for the baskets: to be bought today or tomorrow, with
/// whatever else goes to that supplier.
[[nodiscard]] std::vector<Cover> stock_needs(const std::vector<StockLine>& lines,
                                             const StockQuestion& question);

/// "41 used on 30 occasions since ..."
[[nodiscard]] std::string used_of(const StockLine& line);
/// "2 free and under way, and at 3 or fewer it is bought up to 9: 41 used on 30 occasions since ..."
[[nodiscard]] std::string why_of(const StockLine& line);

}  // namespace rollwright::supply
