#pragma once

#include <optional>
#include <string>

#include "base/result.hpp"
#include "trade/order.hpp"

namespace rollwright::build {

inline constexpr std::size_t kLongestReason = 200;  // bytes of the line beside a flag

/// What a person says of a flag on an order.
struct FlagGiven {
  std::string flag;    // of trade::all_flags()
  bool set = true;     // false: it is cleared
  std::string reason;  // one line; why it is set, or why it is cleared
  std::optional<Day> until;  // when it is looked at again
  std::string by;      // name
};

/// The order with the flag set or cleared. Setting one that is set already changes its reason and day.
/// A flag that is past its day stays until somebody clears it.
///
/// Errors: kNotFound for another flag; kBadInput without a reason; kOutOfRange for a reason of more
/// than one line or of 200 letters, or a day before today; kRefused when the order is over (Claim
/// open and Stop-sale aside, which follow the bike), or the flag to be cleared is not set.
[[nodiscard]] Result<trade::Order> with_flag(const trade::Order& order, const FlagGiven& given,
                                             Day today);

}  // namespace rollwright::build
