#include "shop/life_moves.hpp"

#include <algorithm>
#include <map>

#include <fmt/format.h>

#include "shop/goods_shelf.hpp"
#include "shop/supply_side.hpp"

namespace rollwright::shop {
namespace {

using enum trade::OrderState;
using PutBy = std::pair<trade::OrderId, int>;

int put_by_for(const trade::Stock& stock, const trade::OrderId& order) {
  const auto held = std::ranges::find(stock.put_by, order, &PutBy::first);
  return held == stock.put_by.end() ? 0 : held->second;
}

void set_put_by(trade::Stock& stock, const trade::OrderId& order, int pieces) {
  std::erase_if(stock.put_by, [&order](const PutBy& each) { return each.first == order; });
  if (pieces > 0) stock.put_by.emplace_back(order, pieces);
  std::ranges::sort(stock.put_by);
}

/// What the covers give the order from the free shelf.
MoveDoes put_by_what_is_free(const LifeAt& at) {
  std::map<trade::PartId, int> free;
  for (const supply::Cover& cover : covers_of(at.trade, at.state, at.today)) {
    const bool ours = cover.need.order == at.order.id && !cover.put_by;
    if (ours && cover.source == supply::Source::kShelf) {
      free[cover.need.part] += cover.need.quantity;
    }
  }
  MoveDoes does;
  for (const auto& [part, pieces] : free) {
    trade::Stock stock = stock_of(at.state, part);
    set_put_by(stock, at.order.id, put_by_for(stock, at.order.id) + pieces);
    does.stock.push_back(std::move(stock));
    does.told.push_back(
        fmt::format("{} of {} put by.", pieces_words(pieces), at.state.name_of(part)));
  }
  return does;
}

MoveDoes off_the_shelf(const LifeAt& at) {
  MoveDoes does;
  int pieces = 0;
  for (trade::Stock stock : at.state.held.stock) {
    const int held = put_by_for(stock, at.order.id);
    if (held == 0) continue;
    stock.on_shelf -= held;
    pieces += held;
    set_put_by(stock, at.order.id, 0);
    does.stock.push_back(std::move(stock));
  }
  for (trade::PurchaseLine line : at.state.held.purchases) {
    if (line.order != at.order.id || line.state != trade::PurchaseState::kPutBy) continue;
    line.state = trade::PurchaseState::kFitted;
    does.purchases.push_back(std::move(line));
  }
  if (pieces > 0) does.told.push_back(fmt::format("{} left the shelf.", pieces_words(pieces)));
  return does;
}

/// Pieces of each part that the order needs.
std::map<trade::PartId, int> needs_of(const trade::Trade& trade, const trade::Order& order) {
  std::map<trade::PartId, int> needs;
  for (const auto& [slot_id, part] : order.choices) {
    const trade::Slot* slot = trade::find_slot(trade, slot_id);
    needs[part] += slot == nullptr ? 1 : slot->quantity;
  }
  return needs;
}

MoveDoes let_go(const LifeAt& at, const std::map<trade::PartId, int>& needs) {
  const auto needed = [&needs](const trade::PartId& part) {
    const auto found = needs.find(part);
    return found == needs.end() ? 0 : found->second;
  };
  MoveDoes does;
  for (trade::Stock stock : at.state.held.stock) {
    const int held = put_by_for(stock, at.order.id);
    const int kept = std::min(held, needed(stock.part));
    if (held == kept) continue;
    set_put_by(stock, at.order.id, kept);
    does.told.push_back(fmt::format("{} of {} free on the shelf again.",
                                    pieces_words(held - kept), at.state.name_of(stock.part)));
    does.stock.push_back(std::move(stock));
  }
  for (const trade::PurchaseLine* open : open_lines(at.state, at.order.id)) {
    if (needed(open->part) > 0) continue;
    does.told.push_back(fmt::format("{} ({}) with {} is still {}: it is the shelf's now; give it "
                                    "up or send it back if it is not wanted.",
                                    open->id, at.state.name_of(open->part), open->supplier.text,
                                    trade::word_of(open->state)));
    trade::PurchaseLine line = *open;
    line.order.reset();
    does.purchases.push_back(std::move(line));
  }
  return does;
}

}  // namespace

MoveDoes move_does(const LifeAt& at, trade::OrderState to) {
  if (to == kGathering || to == kKitted) return put_by_what_is_free(at);
  if (to == kHandedOver) return off_the_shelf(at);
  if (to == kCancelled) return let_go(at, {});
  return {};
}

MoveDoes let_go_of_changed(const LifeAt& at, const trade::Order& order) {
  return let_go(at, needs_of(at.trade, order));
}

}  // namespace rollwright::shop
