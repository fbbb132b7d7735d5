#pragma once

#include <string>
#include <vector>

#include "build/facts.hpp"
#include "build/values.hpp"
#include "trade/sheet.hpp"

namespace rollwright::build {

/// The limit that holds when all of `printed` and `usual` must: the greatest least and the smallest
/// most, each source named. Where a usual bound (handbook, common practice) contradicts a printed
/// one, the print holds and the usual bound falls away.
/// Errors: kContradiction when the printed limits contradict each other; the sentence names both.
[[nodiscard]] Result<trade::Limit> strictest_of(const std::vector<trade::Limit>& printed,
                                                const std::vector<trade::Limit>& usual);

/// One value of the sheet for this bike: the calculation's target, the limits of the trade's row
/// and of the parts' prints, and the strictest of them. What is missing or contradicts is asked at
/// `facts`; a value that needs a fact that is not known has no target.
[[nodiscard]] trade::SheetValue value_for(const trade::Reading& reading, FactReader& facts);

}  // namespace rollwright::build
