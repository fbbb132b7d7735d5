#include "trade/enquiry.hpp"

#include <fmt/format.h>

#include "base/text.hpp"

namespace rollwright::trade {
namespace {

std::string plain_amount(Money money) {
  const std::int64_t cents = money.cents % 100;
  return cents == 0 ? fmt::format("{}", money.cents / 100)
                    : fmt::format("{}.{:02}", money.cents / 100, cents);
}

}  // namespace

Result<Budget> budget_of(Money at_most) {
  if (Money{0} < at_most && at_most <= kMostBudget) return Budget{.at_most = at_most};
  return refuse(Code::kOutOfRange,
                fmt::format("a budget is more than nothing and at most {}", shown(kMostBudget)),
                {.value = plain_amount(at_most)});
}

Result<Budget> parse_budget(std::string_view text) {
  text = trim(text);
  if (text == kNothingSaid) return Budget{};
  const Result<Money> money = parse_money(text);
  if (money) return budget_of(*money);
  return refuse(Code::kBadInput, "a budget is written as 2500 or 2499.50, or as nothing said",
                {.value = std::string(text)});
}

std::string word_of(const Budget& budget) {
  return budget.at_most ? plain_amount(*budget.at_most) : std::string(kNothingSaid);
}

}  // namespace rollwright::trade
