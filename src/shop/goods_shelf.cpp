#include "shop/goods_shelf.hpp"

#include <algorithm>

#include "shop/supply_side.hpp"

namespace rollwright::shop {
namespace {

using trade::PurchaseState;

/// Pieces that the order needs of the part and that are not put by for it yet.
int still_needed(const GoodsInAt& at, const trade::OrderId& id, const trade::Stock& stock) {
  const auto order = at.state.orders.find(id);
  if (order == at.state.orders.end() || !gathers_parts(*order->second)) return 0;
  int needed = 0;
  for (const auto& [slot_id, part] : order->second->choices) {
    if (part != stock.part) continue;
    const trade::Slot* slot = trade::find_slot(at.trade, slot_id);
    needed += slot == nullptr ? 1 : slot->quantity;
  }
  for (const auto& [other, quantity] : stock.put_by) {
    if (other == id) needed -= quantity;
  }
  return std::max(0, needed);
}

}  // namespace

trade::Stock stock_of(const State& state, const trade::PartId& part) {
  const auto held = state.stock.find(part);
  return held == state.stock.end() ? trade::Stock{.part = part, .on_shelf = 0, .put_by = {}}
                                   : *held->second;
}

int shelve(const GoodsInAt& at, const trade::PurchaseLine& line, int pieces, trade::Stock& stock) {
  stock.on_shelf += pieces;
  if (!line.order) return 0;
  const int kept = std::min(pieces, still_needed(at, *line.order, stock));
  if (kept == 0) return 0;
  const auto held = std::ranges::find(stock.put_by, *line.order,
                                      &std::pair<trade::OrderId, int>::first);
  if (held == stock.put_by.end()) {
    stock.put_by.emplace_back(*line.order, kept);
    std::ranges::sort(stock.put_by);
  } else {
    held->second += kept;
  }
  return kept;
}

Result<void> unshelve(const trade::PurchaseLine& line, int pieces, trade::Stock& stock) {
  int left = pieces;
  int named = 0;
  for (auto& [order, quantity] : stock.put_by) {
    if (line.order && order == *line.order) {
      const int taken = std::min(left, quantity);
      quantity -= taken;
      left -= taken;
      stock.on_shelf -= taken;
    }
    named += quantity;
  }
  std::erase_if(stock.put_by, [](const auto& each) { return each.second == 0; });
  const int free = stock.on_shelf - named;
  if (left > free) {
    return refused(fmt::format("{} of {} are free on the shelf, so {} cannot be taken off it; what "
                               "is put by for other orders has to be let go first",
                               std::max(0, free), line.part.text, left),
                   "pieces", std::to_string(pieces));
  }
  stock.on_shelf -= left;
  return {};
}

trade::PurchaseState state_after(const trade::PurchaseLine& line, int put_by) {
  const trade::GoodsIn pieces = *line.came;
  if (pieces.outstanding() > 0) {
    return trade::is_under_way(line.state) ? line.state : PurchaseState::kPlaced;
  }
  if (pieces.to_look_at > 0) return PurchaseState::kAtGoodsIn;
  if (pieces.quarantined > 0) return PurchaseState::kQuarantined;
  if (pieces.accepted > 0) {
    return put_by > 0 || line.state == PurchaseState::kPutBy ? PurchaseState::kPutBy
                                                             : PurchaseState::kAccepted;
  }
  return pieces.sent_back > 0 ? PurchaseState::kSentBack : PurchaseState::kCancelled;
}

}  // namespace rollwright::shop
