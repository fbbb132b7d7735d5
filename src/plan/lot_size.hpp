#pragma once

#include <vector>

#include "base/result.hpp"

namespace rollwright::plan {

/// What is needed in each of some periods, and what buying and keeping cost.
struct LotSeries {
  std::vector<double> demand;      // pieces per period, 0 or more; at most 1,000 periods
  std::vector<double> order_cost;  // of an order in each period, as long as `demand`
  double keep_cost = 0;            // of a piece from one period to the next, 0 or more
};

struct Lot {
  int period = 0;  // from 0; the lot is there at its beginning
  double pieces = 0;
};

struct LotPlan {
  std::vector<Lot> lots;
  double cost = 0;  // of ordering and keeping
};

/// How far a lot reaches, by rule: on until the cost per period (Silver and Meal) or per piece
/// (least unit cost) would rise, or until the cost of keeping comes nearest to that of ordering.
enum class LotRule { kEachPeriod, kCostPerPeriod, kCostPerPiece, kBalance };

/// The cheapest lots of all.
/// Method: shortest way over the periods in which a lot can begin. Source: H. Wagner and T. Whitin,
///         Management Science 5 (1958), from memory. Accuracy: exact; compared with all choices.
/// Errors: kOutOfRange for a negative number or too many periods, kBadInput for lists of different
///         lengths.
[[nodiscard]] Result<LotPlan> cheapest_lots(const LotSeries& series);

/// Lots by a rule of thumb, for comparison. Source: E. Silver and H. Meal 1973, J. DeMatteis 1968
/// (from memory). Errors: as above.
[[nodiscard]] Result<LotPlan> lots_by_rule(const LotSeries& series, LotRule rule);

}  // namespace rollwright::plan
