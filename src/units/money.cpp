#include "units/money.hpp"

#include <fmt/format.h>

#include "base/text.hpp"

namespace rollwright {

Result<Money> parse_money(std::string_view text) {
  text = trim(text);
  const auto wrong = [text] {
    return refuse(Code::kBadInput, "money is written as 1480 or 62.50, without a currency sign",
                  {.value = std::string(text)});
  };
  const std::size_t point = text.find('.');
  const auto whole = to_whole(text.substr(0, point));
  if (!whole || *whole > 1'000'000'000 || *whole < -1'000'000'000) return wrong();
  std::int64_t cents = 0;
  if (point != std::string_view::npos) {
    const std::string_view tail = text.substr(point + 1);
    const auto number = to_whole(tail);
    if (!number || *number < 0 || tail.size() > 2 || tail[0] == '-') return wrong();
    cents = tail.size() == 1 ? *number * 10 : *number;
  }
  const bool negative = text.starts_with('-');
  return Money{*whole * 100 + (negative ? -cents : cents)};
}

std::string shown(Money money) {
  const std::int64_t size = money.cents < 0 ? -money.cents : money.cents;
  std::string whole = fmt::format("{}", size / 100);
  for (int at = static_cast<int>(whole.size()) - 3; at > 0; at -= 3) {
    whole.insert(static_cast<std::size_t>(at), "\u202f");
  }
  std::string text = (money.cents < 0 ? "\u2212" : "") + whole;
  if (size % 100 != 0) text += fmt::format(".{:02}", size % 100);
  return text;
}

}  // namespace rollwright
