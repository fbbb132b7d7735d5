#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "base/clock.hpp"
#include "base/result.hpp"
#include "units/money.hpp"

/// What is written down of an enquiry so that it is not forgotten: what the customer means to spend,
/// and the day on which somebody comes back to them.
///
/// Source: common practice: an enquiry is kept for 30 to 90 days, is followed up, and then archived.
namespace rollwright::trade {

/// What the customer means to spend, in the shop's currency.
struct Budget {
  std::optional<Money> at_most;  // none: they were asked, and nothing was said
  friend bool operator==(const Budget&, const Budget&) = default;
};
inline constexpr std::string_view kNothingSaid = "nothing said";
inline constexpr Money kMostBudget = {100'000'000};  // wide; more is a slip of the hand

/// From one cent to kMostBudget. Errors: kOutOfRange.
[[nodiscard]] Result<Budget> budget_of(Money at_most);
/// "2500", "2499.50" or "nothing said". Errors: kBadInput; those of `budget_of`.
[[nodiscard]] Result<Budget> parse_budget(std::string_view text);
/// As `parse_budget` reads it.
[[nodiscard]] std::string word_of(const Budget& budget);

/// When somebody of the shop comes back to the customer.
struct FollowUp {
  Day day = {};
  std::string about;  // who calls whom about what, in one line
  friend bool operator==(const FollowUp&, const FollowUp&) = default;
};
inline constexpr std::size_t kLongestFollowUp = 200;  // bytes
inline constexpr int kFurthestFollowUp = 366;         // days ahead; a year that is a slip is found

}  // namespace rollwright::trade
