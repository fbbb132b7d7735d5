#pragma once

#include <map>
#include <string>
#include <vector>

#include "supply/lead_time.hpp"

namespace rollwright::supply {

/// One delivery, judged by the odds that what was known before its month had taught.
struct ReplayedDelivery {
  const trade::Receipt* receipt = nullptr;
  int days = 0;          // working days it took, at least 1
  double below = 0;  // odds of fewer days than it took
  double on_day = 0; // odds of exactly those days
};

/// What the learned lead times would have said of each delivery ordered on `from` or later, month by
/// month.
///
/// Method:  for each month of ordering, learned afresh from what was received before that month and
///          from what had been ordered before it and was still to come. A
///          delivery without an offer on file today, or received before it was ordered, is left out.
/// Ignores: holidays; that a supplier may have changed the road on which it offers a part.
[[nodiscard]] std::vector<ReplayedDelivery> replay_deliveries(
    const std::map<std::string, trade::LeadTimePrior>& priors,
    const std::map<trade::PartId, std::string>& group_of,
    const std::vector<trade::Receipt>& receipts, const std::vector<trade::Offer>& offers,
    Day from = Day::min());

}  // namespace rollwright::supply
