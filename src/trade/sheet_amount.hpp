#pragma once

#include <string>
#include <string_view>

#include "units/money.hpp"

namespace rollwright::trade {

/// How a list writes its numbers.
enum class DecimalSign { kPoint, kComma };

/// A number of a list, with whatever unit follows it, as our own readers take it: "1.234,50 mm"
/// becomes "1234.50 mm". Thousands may be parted by the other sign, a space or an apostrophe, in
/// groups of three; anything else is refused, never guessed.
/// Errors: kBadInput saying how the list writes numbers.
[[nodiscard]] Result<std::string> plain_number(std::string_view text, DecimalSign decimal);

/// Digits after the decimal sign of a number that `plain_number` wrote.
[[nodiscard]] int decimals_of(std::string_view plain);

/// A price of a list: as `plain_number`, with the shop's currency before or after it, or bare.
/// Errors: kBadInput, also for another currency; kOutOfRange below zero.
[[nodiscard]] Result<Money> list_money(std::string_view text, DecimalSign decimal,
                                       std::string_view currency);

}  // namespace rollwright::trade
