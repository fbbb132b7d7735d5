#include "trade/supplier.hpp"

#include <algorithm>

#include "base/result.hpp"

namespace rollwright::trade {
namespace {

struct PurchaseRow {
  PurchaseState state;
  std::string_view word;
  bool under_way;  // placed and not yet here
};

constexpr PurchaseRow kPurchaseStates[] = {
    {PurchaseState::kWanted, "Wanted", false},
    {PurchaseState::kAsked, "Asked", true},
    {PurchaseState::kPlaced, "Placed", true},
    {PurchaseState::kConfirmed, "Confirmed", true},
    {PurchaseState::kShipped, "Shipped", true},
    {PurchaseState::kAtGoodsIn, "At goods-in", false},
    {PurchaseState::kAccepted, "Accepted", false},
    {PurchaseState::kPutBy, "Put by", false},
    {PurchaseState::kFitted, "Fitted", false},
    {PurchaseState::kBackOrdered, "Back-ordered", true},
    {PurchaseState::kQuarantined, "Quarantined", false},
    {PurchaseState::kSentBack, "Sent back", false},
    {PurchaseState::kCancelled, "Cancelled", false},
};

const PurchaseRow& row_of(PurchaseState state) {
  for (const PurchaseRow& row : kPurchaseStates) {
    if (row.state == state) return row;
  }
  broken_promise("every purchase state has a row", __FILE__, __LINE__);
}

}  // namespace

int free_pieces(const Stock& stock) {
  int free = stock.on_shelf;
  for (const auto& [order, quantity] : stock.put_by) free -= quantity;
  return std::max(0, free);
}

std::string_view word_of(PurchaseState state) { return row_of(state).word; }

std::optional<PurchaseState> purchase_state_named(std::string_view word) {
  for (const PurchaseRow& row : kPurchaseStates) {
    if (row.word == word) return row.state;
  }
  return std::nullopt;
}

bool is_under_way(PurchaseState state) { return row_of(state).under_way; }

GoodsIn goods_in_of(const PurchaseLine& line) {
  if (line.came) return *line.came;
  GoodsIn pieces{.ordered = line.quantity};
  switch (line.state) {
    case PurchaseState::kAtGoodsIn: pieces.to_look_at = line.quantity; break;
    case PurchaseState::kAccepted:
    case PurchaseState::kPutBy:
    case PurchaseState::kFitted: pieces.accepted = line.quantity; break;
    case PurchaseState::kQuarantined: pieces.quarantined = line.quantity; break;
    case PurchaseState::kSentBack: pieces.sent_back = line.quantity; break;
    case PurchaseState::kCancelled: pieces.written_off = line.quantity; break;
    default: break;
  }
  return pieces;
}

int pieces_to_come(const PurchaseLine& line) {
  if (!is_under_way(line.state) && line.state != PurchaseState::kAtGoodsIn) return 0;
  const GoodsIn pieces = goods_in_of(line);
  return pieces.outstanding() + pieces.to_look_at;
}

Day waited_since(const PurchaseLine& line) { return line.placed_again.value_or(line.placed); }

}  // namespace rollwright::trade
