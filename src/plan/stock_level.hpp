#pragma once

#include <vector>

#include "base/result.hpp"

namespace rollwright::plan {

/// Mean of what a standard normal exceeds z by: phi(z) - z (1 - Phi(z)).
[[nodiscard]] double normal_loss(double z);
/// z that a standard normal stays below with this chance, strictly between 0 and 1 (by halving, to
/// 1e-12).
[[nodiscard]] double normal_level(double chance);
/// z at which `normal_loss` has this value, above 0.
[[nodiscard]] double normal_level_of_loss(double loss);

struct NormalDemand {
  double mean = 0;  // pieces, 0 or more
  double sd = 0;    // pieces, above 0
};

/// Demand while an order is under way, when demand per day and the days are both uncertain and
/// independent. Source: any text on stock (from memory).
[[nodiscard]] NormalDemand demand_under_way(const NormalDemand& per_day, double days,
                                            double days_sd);

/// Pieces to buy once for a season. `short_cost` and `over_cost`: of a piece too few or too many.
/// Source: the newsvendor's ratio (from memory). Errors: kOutOfRange for costs of 0 or less.
[[nodiscard]] Result<double> buy_once(const NormalDemand& demand, double short_cost,
                                      double over_cost);

/// What a part that is bought again and again costs.
struct StockCosts {
  double demand_per_year = 0;
  double order_cost = 0;
  double keep_cost = 0;   // of a piece for a year
  double short_cost = 0;  // of a piece that is missing
};
struct OrderLevel {
  double quantity = 0;  // of each order
  double level = 0;     // of the stock at which it is given
};

/// Square root of twice demand times order cost over keep cost (F. Harris 1913, from memory).
[[nodiscard]] Result<double> usual_quantity(const StockCosts& costs);
/// Quantity and level in turn, each best for the other, until neither moves; all steps from the
/// usual quantity on, the last is the answer. Source: G. Hadley and T. Whitin 1963 (from memory).
/// Errors: kOutOfRange for a cost of 0 or less, or when being short costs less than keeping.
[[nodiscard]] Result<std::vector<OrderLevel>> order_levels(const NormalDemand& under_way,
                                                           const StockCosts& costs);
/// Mean cost of a year: keeping, ordering, being short.
[[nodiscard]] double year_cost(const NormalDemand& under_way, const StockCosts& costs,
                               const OrderLevel& order);
/// Level at which this share of all pieces, between 0 and 1, is on the shelf when asked for.
[[nodiscard]] Result<double> level_for_share(const NormalDemand& under_way, double quantity,
                                             double share);

/// Mean of the largest of n independent standard normals, n from 1 to 1,000, by summing over a
/// fine grid (to 1e-6), or of n exponentials of mean 1 (sum of 1/k).
[[nodiscard]] double largest_normal(int n);
[[nodiscard]] double largest_exponential(int n);

struct ThreePoint {
  double mean = 0;
  double variance = 0;
};
/// From the least, likeliest and most of a duration. Source: D. Malcolm and others, Operations
/// Research 7 (1959), from memory. Ignores: that the form is a rule of thumb for a beta curve.
[[nodiscard]] ThreePoint three_point(double least, double likeliest, double most);

/// A part's plan over periods, from what is needed and what is coming.
struct NeedSeries {
  std::vector<int> needed;  // pieces per period
  std::vector<int> coming;  // already ordered, as long as `needed`
  int on_hand = 0;
  int lead_periods = 0;
  int pack = 0;  // orders are multiples of it; 0: exactly what is missing
};
struct NetPlan {
  std::vector<int> on_hand;   // at the end of each period
  std::vector<int> missing;   // before new orders
  std::vector<int> received;  // of new orders
  std::vector<int> placed;    // in the period in which they must be given
  int too_late = 0;           // pieces that would have had to be ordered before the first period
};
/// Errors: kBadInput for lists of different lengths, kOutOfRange for a negative number or one of
/// more than a million, or more than 1,000 periods.
[[nodiscard]] Result<NetPlan> net_plan(const NeedSeries& series);

}  // namespace rollwright::plan
