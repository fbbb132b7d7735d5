#pragma once

#include <vector>

#include "base/result.hpp"
#include "mech/spoke_length.hpp"

namespace rollwright::mech {

/// Lengths from the drawer for every flank of a wheelset.
struct WheelsetStock {
  std::vector<StockLength> taken;  // in the order of the flanks asked about
  int different = 0;               // lengths that have to be laid out
};

/// The stock lengths to take for up to four flanks (both sides of both wheels, or of one).
///
/// Method:    every combination of stock lengths that stock_length allows (1 mm under to 0.5 mm over)
///            is looked at: the fewest different lengths, then the least sum of what they are off,
///            then the shorter ones.
/// Source:    [spoke-stock]. Accuracy: exact.
/// Errors:    those of stock_length for the first flank that no length fits; kOutOfRange for no flank
///            or more than four, more than 400 stock lengths, two of them closer than 0.1 mm.
[[nodiscard]] Result<WheelsetStock> wheelset_stock(const std::vector<Length>& computed,
                                                   const std::vector<Length>& stock);

/// Lengths that a drawer usually has: every even millimetre from 180 to 310. Source: [spoke-stock].
[[nodiscard]] std::vector<Length> usual_drawer();

}  // namespace rollwright::mech
