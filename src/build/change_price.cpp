#include "build/change_price.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/text.hpp"

namespace rollwright::build {
namespace {

/// Whole cents of so many minutes.
Money labour(double minutes, Money hourly_rate) {
  return {std::llround(minutes * static_cast<double>(hourly_rate.cents) / 60)};
}

std::string at_rate(double minutes, Money hourly_rate) {
  return fmt::format("{} minutes at {} an hour", rounded(minutes, 1), shown(hourly_rate));
}

Money sum_of(const std::vector<MoneyLine>& lines) {
  Money sum;
  for (const MoneyLine& line : lines) sum += line.amount;
  return sum;
}

/// Restocking and freight of a part that goes back to its supplier.
Result<void> add_return(const PartChange& part, std::vector<MoneyLine>& lines) {
  if (!part.restocking_percent) {
    return refuse(Code::kRefused,
                  fmt::format("what the supplier keeps for taking {} back is not known: no row of "
                              "restocking.csv covers it",
                              part.from),
                  {.file = "restocking.csv", .field = "slot", .value = part.slot});
  }
  const Money kept{std::llround(static_cast<double>(part.from_cost.cents) *
                                *part.restocking_percent / 100)};
  lines.push_back({part.slot + ": restocking", kept,
                   fmt::format("{} % of {} that the supplier asked", *part.restocking_percent,
                               shown(part.from_cost))});
  if (part.freight_back.cents > 0) {
    lines.push_back({part.slot + ": freight back", part.freight_back, "the supplier's freight"});
  }
  return {};
}

/// What the part given up costs where it stands; nothing before it is bought.
Result<void> add_given_up(const PartChange& part, std::vector<MoneyLine>& lines) {
  if (part.from.empty() || part.freeze < Freeze::kBought) return {};
  if (part.freeze == Freeze::kBought) return add_return(part, lines);
  lines.push_back({part.slot + ": " + part.from, part.from_price,
                   fmt::format("{}, {}: it cannot be returned", point_of(part.freeze),
                               word_of(part.freeze))});
  return {};
}

std::string words_of(const PartChange& change) {
  if (change.to.empty()) return "no " + change.slot;
  return change.to + (change.from.empty() ? "" : " instead of " + change.from);
}

std::string change_sentence(const std::vector<PartChange>& changes, const ChangePrice& price) {
  std::vector<std::string> words;
  for (const PartChange& change : changes) words.push_back(words_of(change));
  std::string sentence =
      fmt::format("{} {} to {}{}: {} for the parts", listed(words),
                  words.size() == 1 ? "comes" : "come together", price.total.cents < 0 ? "" : "+ ", shown(price.total), shown(price.parts));
  if (price.beside.cents > 0) sentence += fmt::format(", {} beside them", shown(price.beside));
  sentence += ".";
  if (price.furthest == Freeze::kBought) {
    sentence += " The shop may keep the part for its shelf instead of sending it back.";
  }
  if (price.furthest == Freeze::kApproved) {
    sentence += " It may need the maker's approval again, and the checks are done anew.";
  }
  return sentence;
}

}  // namespace

Result<ChangePrice> price_of_change(const std::vector<PartChange>& changes, Money hourly_rate) {
  if (changes.empty()) {
    return refuse(Code::kBadInput, "nothing is changed", {.field = "choices"});
  }
  ChangePrice price;
  double checks = 0;
  for (const PartChange& change : changes) {
    price.furthest = std::max(price.furthest, change.freeze);
    const Money difference = change.to_price - change.from_price;
    price.parts += difference;
    price.lines.push_back({change.slot, difference, words_of(change)});
    if (Result<void> ok = add_given_up(change, price.lines); !ok) {
      return std::unexpected(ok.error());
    }
    if (change.freeze < Freeze::kBuilt) continue;
    if (change.minutes_out > 0) {
      price.lines.push_back({change.slot + ": labour out", labour(change.minutes_out, hourly_rate),
                             at_rate(change.minutes_out, hourly_rate)});
    }
    if (change.minutes_in > 0) {
      price.lines.push_back({change.slot + ": labour in", labour(change.minutes_in, hourly_rate),
                             at_rate(change.minutes_in, hourly_rate)});
    }
    checks = std::max(checks, change.minutes_checks);
  }
  if (checks > 0) {
    price.lines.push_back(
        {"checks again", labour(checks, hourly_rate), at_rate(checks, hourly_rate)});
  }
  price.total = sum_of(price.lines);
  price.beside = price.total - price.parts;
  price.sentence = change_sentence(changes, price);
  return price;
}

Result<Settlement> settlement_of(const CancelledOrder& order) {
  Settlement settled;
  std::vector<MoneyLine> kept;
  for (const PartChange& part : order.parts) {
    if (Result<void> ok = add_given_up(part, kept); !ok) return std::unexpected(ok.error());
  }
  if (order.minutes_done > 0) {
    kept.push_back({"labour done", labour(order.minutes_done, order.hourly_rate),
                    at_rate(order.minutes_done, order.hourly_rate)});
  }
  settled.lines.push_back({"deposit", order.deposit, "paid by the customer"});
  for (MoneyLine& line : kept) {
    line.amount = Money{} - line.amount;
    settled.lines.push_back(std::move(line));
  }
  settled.back = sum_of(settled.lines);
  settled.law = "Consumer law comes first: where it gives the customer more, that is paid back.";
  settled.sentence =
      settled.back.cents >= 0
          ? fmt::format("{} of the deposit of {} goes back to the customer.", shown(settled.back),
                        shown(order.deposit))
          : fmt::format("The deposit of {} does not cover what is kept: {} stays open.",
                        shown(order.deposit), shown(Money{} - settled.back));
  return settled;
}

}  // namespace rollwright::build
