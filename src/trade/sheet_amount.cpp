#include "trade/sheet_amount.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"

namespace rollwright::trade {
namespace {

bool is_digit(char c) { return '0' <= c && c <= '9'; }

/// Spaces of typesetters (no-break, narrow no-break, thin) as plain ones.
std::string with_plain_spaces(std::string_view text) {
  std::string plain(trim(text));
  for (const std::string_view space : {"\u00a0", "\u202f", "\u2009"}) {
    for (std::size_t at; (at = plain.find(space)) != std::string::npos;) {
      plain.replace(at, space.size(), " ");
    }
  }
  return std::string(trim(plain));
}

/// Takes the signs out that part thousands; nothing when the groups are not of three digits.
std::optional<std::string> without_groups(std::string_view whole, char other) {
  std::string digits;
  char group = '\0';
  std::size_t since = 0;  // digits since the last group sign
  for (const char c : whole) {
    if (is_digit(c)) {
      digits += c;
      ++since;
      continue;
    }
    const bool may_part = c == other || c == ' ' || c == '\'';
    const bool fits = group == '\0' ? 1 <= since && since <= 3 : c == group && since == 3;
    if (!may_part || !fits) return std::nullopt;
    group = c;
    since = 0;
  }
  if (digits.empty() || (group != '\0' && since != 3)) return std::nullopt;
  return digits;
}

std::string_view symbol_of(std::string_view currency) {
  if (currency == "EUR") return "€";
  if (currency == "USD") return "$";
  if (currency == "GBP") return "£";
  return currency;
}

}  // namespace

Result<std::string> plain_number(std::string_view text, DecimalSign decimal) {
  const std::string spaced = with_plain_spaces(text);
  const char sign = decimal == DecimalSign::kComma ? ',' : '.';
  const char other = decimal == DecimalSign::kComma ? '.' : ',';
  const auto wrong = [&] {
    return refuse(Code::kBadInput,
                  fmt::format("this is no number as this list writes them, with a decimal {}: {}",
                              sign == ',' ? "comma" : "point",
                              sign == ',' ? "28,6 or 1.234,50" : "28.6 or 1,234.50"),
                  {.value = std::string(text)});
  };
  const std::size_t last = spaced.find_last_of("0123456789");
  if (last == std::string::npos) return wrong();
  std::string_view number = std::string_view(spaced).substr(0, last + 1);
  const std::string_view unit = trim(std::string_view(spaced).substr(last + 1));
  if (unit.find_first_of(".,'-+") == 0) return wrong();
  std::string plain;
  if (number.starts_with('-') || number.starts_with('+')) {
    if (number.front() == '-') plain = "-";
    number.remove_prefix(1);
  }
  const std::size_t point = std::min(number.find(sign), number.size());
  const std::optional<std::string> whole = without_groups(number.substr(0, point), other);
  if (!whole) return wrong();
  plain += *whole;
  if (point < number.size()) {
    const std::string_view rest = number.substr(point + 1);
    if (rest.empty() || !std::ranges::all_of(rest, is_digit)) return wrong();
    plain += "." + std::string(rest);
  }
  return unit.empty() ? plain : plain + " " + std::string(unit);
}

int decimals_of(std::string_view plain) {
  const std::size_t point = plain.find('.');
  if (point == std::string_view::npos) return 0;
  const auto rest = plain.substr(point + 1);
  return static_cast<int>(std::ranges::find_if_not(rest, is_digit) - rest.begin());
}

Result<Money> list_money(std::string_view text, DecimalSign decimal, std::string_view currency) {
  std::string spaced = with_plain_spaces(text);
  std::string_view bare = spaced;
  for (const std::string_view mark : {currency, symbol_of(currency)}) {
    if (mark.empty()) continue;
    if (bare.starts_with(mark)) bare.remove_prefix(mark.size());
    if (bare.ends_with(mark)) bare.remove_suffix(mark.size());
    bare = trim(bare);
  }
  const auto other_currency = [&] {
    return refuse(Code::kBadInput,
                  fmt::format("this shop reckons in {}; write the sum bare or with that currency",
                              currency),
                  {.value = std::string(text)});
  };
  const std::size_t digit = std::min(bare.find_first_of("0123456789"), bare.size());
  const bool has_sum = digit < bare.size();
  if (has_sum && bare.substr(0, digit).find_first_not_of(" .,'+-") != std::string_view::npos) {
    return other_currency();
  }
  const Result<std::string> plain = plain_number(bare, decimal);
  if (!plain) return std::unexpected(plain.error());
  if (plain->find(' ') != std::string::npos) return other_currency();
  const Result<Money> money = parse_money(*plain);
  if (!money) return money;
  if (*money < Money{}) {
    return refuse(Code::kOutOfRange, "a price may not be negative", {.value = std::string(text)});
  }
  return money;
}

}  // namespace rollwright::trade
