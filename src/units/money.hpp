#pragma once

#include <compare>
#include <cstdint>
#include <string>
#include <string_view>

#include "base/result.hpp"

namespace rollwright {

/// Whole cents of the shop's one currency (the shop's settings name it). Sums are exact; there is
/// no division.
struct Money {
  std::int64_t cents = 0;

  friend auto operator<=>(Money, Money) = default;
  friend Money operator+(Money a, Money b) { return {a.cents + b.cents}; }
  friend Money operator-(Money a, Money b) { return {a.cents - b.cents}; }
  friend Money operator*(Money a, std::int64_t n) { return {a.cents * n}; }
  Money& operator+=(Money other) { return *this = *this + other; }
};

/// "1480", "62.50". Errors: kBadInput for more than two decimals or anything else.
[[nodiscard]] Result<Money> parse_money(std::string_view text);
/// "1 480" or "62.50": thousands parted by a thin space, cents only when there are any.
[[nodiscard]] std::string shown(Money money);

}  // namespace rollwright
