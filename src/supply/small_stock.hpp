#pragma once

#include <vector>

#include "base/result.hpp"
#include "supply/day_odds.hpp"

namespace rollwright::supply {

/// How small stock (spokes, cables, pads) is used up and what it costs to keep, buy and lack.
struct SmallStock {
  /// Occasions per working day on which pieces are taken: a build, a repair. 0.001 to 20.
  double occasions_per_day = 1;
  /// Chance that an occasion takes 1, 2, ... pieces; sums to 1; at most 200 of them.
  std::vector<double> pieces = {1};
  DayOdds lead;                 // working days from ordering to a good delivery
  double order_cost = 0;        // of one more order line: handling, its share of the freight; >= 0
  double holding_per_day = 0;   // of one piece on the shelf for a working day; > 0
  double lacking_per_day = 0;   // of one piece lacking for a working day; > holding_per_day
};

/// Order up to `up_to` as soon as what is on the shelf and on order, less what is owed, is at or
/// below `at`. Both may be negative: a part that is cheaper bought when it is asked for.
struct StockLevels {
  int at = 0;
  int up_to = 1;
};

/// What a pair of levels does in the long run.
struct StockCourse {
  double cost_per_day = 0;
  double orders_per_day = 0;
  double on_shelf = 0;          // mean pieces
  double lacking = 0;           // mean pieces owed
  double at_hand = 0;           // share of the time with nothing owed and a piece on the shelf
};

/// The long run under these levels.
///
/// Method:   occasions come as a Poisson stream, each with its number of pieces. The stock position
///           has the stationary law of a renewal sum (probability of S - j is proportional to the
///           expected visits of the sums of pieces to j); the shelf a lead time later is that less
///           the demand of a lead time, a compound Poisson law by Panjer's recursion, mixed over the
///           days of the lead time. No simulation, no normal approximation.
/// Source:   [stock] in docs/sources.md.
/// Accuracy: exact up to 1e-9 of demand cut off, when deliveries come in the order in which they
///           were asked for. Agrees with a day-by-day simulation (tested).
/// Ignores:  season; that a second delivery may overtake the first.
/// Errors:   kOutOfRange for a field outside its range; kContradiction when up_to is not above at.
[[nodiscard]] Result<StockCourse> course_of(const SmallStock& stock, const StockLevels& levels);

/// The levels with the least cost per day.
///
/// Method:   the search of Zheng and Federgruen over the exact cost. Agrees with the cost of all
///           pairs in a square (tested). Errors: as for course_of.
[[nodiscard]] Result<StockLevels> best_levels(const SmallStock& stock);

/// Chance that more pieces are taken than lie on the shelf before a delivery comes after `until`
/// working days.
///
/// Method:   pieces in `until` as in course_of (`lead` does not count). Errors: as for course_of, of
///           `until` for the lead time.
[[nodiscard]] Result<double> chance_lacking(const SmallStock& stock, int on_shelf,
                                            const DayOdds& until);

}  // namespace rollwright::supply
