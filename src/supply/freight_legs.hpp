#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/clock.hpp"
#include "base/result.hpp"
#include "supply/day_odds.hpp"

namespace rollwright::supply {

/// How long one leg of a road by freight takes; data/trade/freight_legs.csv (docs/formats.md).
struct FreightLeg {
  std::string name;   // "sea in a shared container"
  double low = 0;     // calendar days; one in ten takes less, 0.5 to 365
  double high = 0;    // one in ten takes more, above low, to 365
  std::string source;
};

/// Errors: kBadInput with file, line and field for what is not as the format says; kConflict for a
/// leg that is there twice.
[[nodiscard]] Result<std::vector<FreightLeg>> read_freight_legs(std::string_view csv,
                                                                std::string file);

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
