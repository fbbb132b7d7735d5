#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "shop/purchase.hpp"
#include "shop/shop.hpp"
#include "shop/supply_side.hpp"
#include "supply/buying.hpp"
#include "units/money.hpp"

// Orders to suppliers: writing down that one was placed, or that a line of it was given up.
namespace rollwright::shop {
namespace {

PlacedView placed_view(const State& state, const std::vector<trade::PurchaseLine>& lines,
                       const PurchaseGiven& given) {
  const trade::PurchaseLine& first = lines.front();
  PlacedView view{.supplier = first.supplier.text,
                  .supplier_name = state.suppliers.at(first.supplier)->name,
                  .placed = first.placed};
  std::vector<std::string> numbers;
  for (const trade::PurchaseLine& line : lines) {
    const trade::Offer* offer = offer_of(state, line.supplier, line.part);
    const auto ordered = std::ranges::find(given.lines, line.part.text, &PiecesGiven::part);
    const Money each = supply::unit_cost(*offer, ordered->quantity);
    PlacedLineView shown{.id = line.id,
                         .part = line.part.text,
                         .name = state.name_of(line.part),
                         .quantity = line.quantity,
                         .article = offer->article,
                         .unit_cost_cents = each.cents};
    if (line.order) shown.order = line.order->text;
    view.goods_cents += (each * line.quantity).cents;
    numbers.push_back(line.id);
    view.lines.push_back(std::move(shown));
  }
  view.sentence = fmt::format("Placed with {} on {}, for {} {}: {}.", view.supplier_name,
                              in_short(view.placed), shown(Money{view.goods_cents}),
                              state.settings.currency, listed(numbers));
  return view;
}

}  // namespace

Result<PlacedView> Shop::place(const PurchaseGiven& given, const std::string& who) {
  const auto current = state();
  if (!current) return std::unexpected(current.error());
  const auto time = now(**current);
  if (!time) return std::unexpected(time.error());
  const std::vector<supply::Cover> covers = covers_of(trade_, **current, time->day);
  const auto lines =
      placed({.trade = trade_, .state = **current, .today = time->day}, covers, given);
  if (!lines) return std::unexpected(lines.error());
  PlacedView view = placed_view(**current, *lines, given);
  book::Change writing{.who = who, .what = "place",
                       .why = view.sentence + (given.note.empty() ? "" : " " + given.note),
                       .read_at = (*current)->entry};
  writing.put.purchases = *lines;
  if (const Result<void> written = write(std::move(writing), ""); !written) {
    return std::unexpected(written.error());
  }
  return view;
}

Result<ArrivalLine> Shop::give_up(const std::string& line, const std::string& note,
                                  const std::string& who) {
  return book_in(line, "give up", who, [&note](const auto&, const auto& held) {
    return given_up(held, note);
  });
}

}  // namespace rollwright::shop
