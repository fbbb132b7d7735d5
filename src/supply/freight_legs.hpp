#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/clock.hpp"
#include "base/result.hpp"
#include "supply/day_odds.hpp"
#include "trade/goods_in.hpp"

namespace rollwright::supply {

using trade::FreightLeg;
using trade::read_freight_legs;

/// Calendar days of some legs one after the other.
///
/// Method:   each leg a lognormal with its low and high as 10 and 90 in 100, in whole days rounded
///           up; legs independent, added by convolution.
/// Accuracy: exact for that. Ignores: days of the week on which a leg starts; season.
/// Errors:   kNotFound naming the legs on file.
[[nodiscard]] Result<DayOdds> calendar_days(const std::vector<FreightLeg>& legs,
                                            const std::vector<std::string>& road);

/// The same wait in working days from `from`: what arrives on a Saturday is in hand on Monday.
[[nodiscard]] DayOdds in_working_days(const DayOdds& calendar, Day from,
                                      const std::vector<Day>& closed);

}  // namespace rollwright::supply
