#include "shop/small_stock.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/working_days.hpp"
#include "shop/goods_shelf.hpp"
#include "shop/order_input.hpp"
#include "shop/shop.hpp"
#include "shop/supply_side.hpp"

// Parts that are used up apart from orders: what is on file of it, and taking pieces off the shelf.
namespace rollwright::shop {
namespace {

constexpr int kMostUsed = 200;
constexpr std::size_t kLongestPurpose = 60;

StockLineView stock_line_view(const State& state, const supply::StockLine& line, Day today) {
  const auto supplier = state.suppliers.find(line.supplier);
  StockLineView view{
      .part = line.part.text,
      .name = state.name_of(line.part),
      .supplier_name =
          supplier == state.suppliers.end() ? line.supplier.text : supplier->second->name,
      .free = line.free,
      .under_way = line.under_way,
      .taken = line.taken,
      .at = line.levels.at,
      .up_to = line.levels.up_to,
      .to_buy = line.to_buy,
      .at_hand = line.at_hand,
      .why = supply::why_of(line),
      .per_week = line.per_week,
      .used = supply::used_of(line),
      .run_out = line.run_out,
      .next_by = {},
      .next = line.next.empty() ? "ordered today" : "line " + line.next,
      .next_line = {}};
  if (!line.next.empty()) view.next_line = line.next;
  if (line.next_days <= supply::kOddsDays) {
    view.next_by = add_working_days(today, line.next_days, state.settings.closed);
    view.next += fmt::format(", nine in ten by {}", in_short(*view.next_by));
  }
  return view;
}

}  // namespace

trade::Used used_with(const State& state, const trade::Used& taken) {
  trade::Used sum = taken;
  for (const trade::Used& held : state.held.rest.used) {
    if (held.part == taken.part && held.day == taken.day && held.what_for == taken.what_for) {
      sum.quantity += held.quantity;
    }
  }
  return sum;
}

supply::StockQuestion stock_question(const State& state, const std::vector<supply::Cover>& covers,
                                     const supply::LeadTimes& lead_times, Day today) {
  return {.used = state.held.rest.used, .stock = state.held.stock,
          .purchases = state.held.purchases, .offers = state.held.offers, .covers = covers,
          .lead_times = lead_times, .today = today, .closed = state.settings.closed};
}

Result<SmallStockView> Shop::small_stock() {
  const auto current = state();
  if (!current) return std::unexpected(current.error());
  const auto time = now(**current);
  if (!time) return std::unexpected(time.error());
  const std::vector<supply::Cover> covers = covers_of(trade_, **current, time->day);
  const auto lead_times = lead_times_of(trade_, **current);
  SmallStockView view;
  int to_buy = 0;
  for (const supply::StockLine& line :
       supply::stock_lines(stock_question(**current, covers, *lead_times, time->day))) {
    view.lines.push_back(stock_line_view(**current, line, time->day));
    if (line.to_buy > 0) ++to_buy;
  }
  std::ranges::stable_sort(view.lines, std::greater<>{}, [](const StockLineView& line) {
    return std::pair(line.to_buy > 0, line.run_out.value_or(1));
  });
  const supply::StockTerms terms;
  view.how = fmt::format("A part has levels once it was taken off the free shelf on {} occasions "
                         "within {} working days.",
                         terms.fewest_occasions, terms.window_days);
  view.sentence = view.lines.empty()
                      ? "No part has enough use on file to reckon a small stock from."
                      : fmt::format("{} of {} parts kept in small stock {} to be bought.", to_buy,
                                    view.lines.size(), to_buy == 1 ? "is" : "are");
  return view;
}

Result<PartView> Shop::use_up(const std::string& id, const UseGiven& given,
                              const std::string& who) {
  const auto current = state();
  if (!current) return std::unexpected(current.error());
  const auto time = now(**current);
  if (!time) return std::unexpected(time.error());
  const trade::PartId part(id);
  if ((*current)->part(part) == nullptr) {
    return refuse(Code::kNotFound, fmt::format("there is no part {} in the catalogue", id),
                  {.field = "part", .value = id});
  }
  if (Result<void> ok = one_line("what_for", given.what_for, kLongestPurpose); !ok) {
    return std::unexpected(ok.error());
  }
  if (given.quantity < 1 || given.quantity > kMostUsed) {
    return refuse(Code::kOutOfRange, fmt::format("this is a number of pieces from 1 to {}", kMostUsed),
                  {.field = "quantity", .value = std::to_string(given.quantity)});
  }
  trade::Stock stock = stock_of(**current, part);
  const int free = trade::free_pieces(stock);
  if (given.quantity > free) {
    return refuse(Code::kRefused,
                  fmt::format("{} of {} are free on the shelf, not {}; the others are put by for "
                              "orders",
                              free, id, given.quantity),
                  {.field = "quantity", .value = std::to_string(given.quantity)});
  }
  stock.on_shelf -= given.quantity;
  book::Change change{.who = who, .what = "use up",
                      .why = fmt::format("{} of {}{}{}", given.quantity, id,
                                         given.what_for.empty() ? "" : " for ", given.what_for),
                      .read_at = (*current)->entry};
  change.put.stock = {stock};
  change.put.used = {used_with(**current, {.part = part, .day = time->day,
                                           .what_for = given.what_for,
                                           .quantity = given.quantity})};
  if (const Result<void> written = write(std::move(change), ""); !written) {
    return std::unexpected(written.error());
  }
  return this->part(id);
}

}  // namespace rollwright::shop
