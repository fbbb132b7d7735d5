#include "shop/miscount_taken.hpp"

#include <algorithm>

#include "base/text.hpp"
#include "shop/goods_shelf.hpp"
#include "shop/supply_side.hpp"

namespace rollwright::shop {
namespace {

using trade::PlaceOfPiece;

/// As before it came: what is known of the road says how far it was.
void reopen(trade::PurchaseLine& line) {
  using enum trade::PurchaseState;
  if (trade::is_under_way(line.state)) return;
  line.state = !line.legs.empty() ? kShipped : line.confirmed ? kConfirmed : kPlaced;
}

int put_by_of(const trade::Stock& stock, const trade::OrderId& order) {
  const auto held = std::ranges::find(stock.put_by, order, &std::pair<trade::OrderId, int>::first);
  return held == stock.put_by.end() ? 0 : held->second;
}

}  // namespace

bool same_delivery(const trade::Receipt& a, const trade::Receipt& b) {
  return a.supplier == b.supplier && a.part == b.part && a.ordered == b.ordered &&
         a.received == b.received && a.quantity == b.quantity;
}

TakenOff::TakenOff(const GoodsInAt& at, const trade::PurchaseLine& held,
                   const MiscountGiven& given, const Bound& bound)
    : at_(at), given_(given), bound_(bound), line_(held) {
  line_.came = trade::goods_in_of(held);
}

Result<void> TakenOff::take(int pieces, const trade::Receipt& receipt, trade::Stock& stock) {
  trade::GoodsIn& came = *line_.came;
  from_look_ = std::min(pieces, came.to_look_at);
  from_shelf_ = std::min(pieces - from_look_, came.accepted);
  from_quarantine_ = std::min(pieces - from_look_ - from_shelf_, came.quarantined);
  const int missing = pieces - from_look_ - from_shelf_ - from_quarantine_;
  if (missing > 0) {
    return refused(fmt::format("{} on line {} went back already, so {} cannot have been counted "
                               "too many",
                               pieces_words(came.sent_back), line_.id, pieces),
                   "right", std::to_string(given_.right));
  }
  if (Result<void> ok = leave_shelf(stock); !ok) return ok;
  if (Result<void> ok = withdraw_claims(); !ok) return ok;
  came.to_look_at -= from_look_;
  came.accepted -= from_shelf_;
  came.quarantined -= from_quarantine_;
  if (Result<void> ok = take_marks(receipt.received); !ok) return ok;
  reopen(line_);
  forget_arrival(receipt);
  return {};
}

/// On the shelf for no order, and in no kit either.
int TakenOff::free_of(const trade::Stock& stock) const {
  int free = trade::free_pieces(stock);
  for (const auto& [order, pieces] : bound_.pieces) {
    const auto held = at_.state.orders.find(order);
    const bool left_the_shelf = held != at_.state.orders.end() &&
                                trade::OrderState::kHandedOver <= held->second->state;
    if (!left_the_shelf) free -= std::max(0, pieces - put_by_of(stock, order));
  }
  return std::max(0, free);
}

/// Put by for the line's order and in its kit, or on its bike.
int TakenOff::in_kit(const trade::Stock& stock) const {
  if (!line_.order) return 0;
  const auto order = at_.state.orders.find(*line_.order);
  const int put_by = put_by_of(stock, *line_.order);
  if (order != at_.state.orders.end() && !gathers_parts(*order->second)) return put_by;
  const auto bound = bound_.pieces.find(*line_.order);
  return bound == bound_.pieces.end() ? 0 : std::min(put_by, bound->second);
}

/// First what is put by for the line's order and not in its kit yet, then free pieces. Pieces
/// without a number are alike: the shelf holds as many too many, whichever were used.
Result<void> TakenOff::leave_shelf(trade::Stock& stock) const {
  const int kitted = in_kit(stock);
  const int kept = line_.order ? put_by_of(stock, *line_.order) - kitted : 0;
  const int free = free_of(stock);
  if (from_shelf_ > kept + free) {
    const std::string where =
        kitted > 0 ? fmt::format("{} {} in the kit or on the bike of order {}", kitted,
                                 kitted == 1 ? "is" : "are", line_.order->text)
                   : std::string("the others are used, or put by for other orders");
    return refused(fmt::format("{} of {} should leave the shelf, and {} of line {} {} still there: "
                               "{}. Count again what is here",
                               pieces_words(from_shelf_), line_.part.text, kept + free, line_.id,
                               kept + free == 1 ? "is" : "are", where),
                   "right", std::to_string(given_.right));
  }
  const int taken = std::min(from_shelf_, kept);
  for (auto& [order, pieces] : stock.put_by) {
    if (line_.order && order == *line_.order) pieces -= taken;
  }
  std::erase_if(stock.put_by, [](const auto& each) { return each.second == 0; });
  stock.on_shelf -= from_shelf_;
  return {};
}

/// Claims of pieces that never were there, the newest first; nobody may have heard of them.
Result<void> TakenOff::withdraw_claims() {
  int left = from_quarantine_;
  for (auto claim = line_.claims.rbegin(); claim != line_.claims.rend() && left > 0; ++claim) {
    if (claim->settled || claim->trouble == trade::Trouble::kShort) continue;
    if (claim->told) {
      return refused(fmt::format("somebody was told on {} that {} of these pieces came {}; settle "
                                 "that claim first",
                                 in_short(*claim->told), claim->pieces,
                                 claim->trouble == trade::Trouble::kWrong ? "wrong" : "damaged"),
                     "right", std::to_string(given_.right));
    }
    const int withdrawn = std::min(left, claim->pieces);
    left -= withdrawn;
    if (withdrawn < claim->pieces) {
      claim->pieces -= withdrawn;
      continue;
    }
    claim->settled = at_.today;
    claim->outcome = "withdrawn";
  }
  return {};
}

Result<void> TakenOff::take_marks(Day day) {
  const trade::GoodsIn& came = *line_.came;
  Result<void> ok = take_serials(PlaceOfPiece::kInStore, from_shelf_, came.accepted);
  if (ok) ok = take_serials(PlaceOfPiece::kQuarantined, from_quarantine_, came.quarantined);
  if (!ok) return ok;
  for (const std::string& serial : given_.serials) {
    if (std::ranges::find(taken_, serial, &trade::Marked::serial) != taken_.end()) continue;
    return refused(fmt::format("no piece with this number is among those that are taken off line "
                               "{}",
                               line_.id),
                   "serials", serial, Code::kNotFound);
  }
  take_lots(PlaceOfPiece::kInStore, came.accepted, day);
  take_lots(PlaceOfPiece::kQuarantined, came.quarantined, day);
  std::erase_if(line_.marked, [](const trade::Marked& mark) { return mark.pieces == 0; });
  return {};
}

/// The numbers of `pieces` that go from a place where `left` stay: those named, else all when all
/// go. Pieces without a number may go before any that has one.
Result<void> TakenOff::take_serials(PlaceOfPiece place, int pieces, int left) {
  std::vector<std::string> there;
  std::vector<std::string> named;
  for (const trade::Marked& mark : line_.marked) {
    if (mark.place != place || mark.serial.empty()) continue;
    there.push_back(mark.serial);
    if (std::ranges::count(given_.serials, mark.serial) > 0) named.push_back(mark.serial);
  }
  const int must = std::max(0, static_cast<int>(there.size()) - left);
  if (named.empty() && must == static_cast<int>(there.size())) named = there;
  if (static_cast<int>(named.size()) < must) {
    return refused(fmt::format("say which {} of these never came: {}",
                               must == 1 ? "one" : std::to_string(must), listed(there)),
                   "serials", join(given_.serials, ", "), Code::kBadInput);
  }
  if (static_cast<int>(named.size()) > pieces) {
    return refused(fmt::format("these are more numbers than the {} that go", pieces_words(pieces)),
                   "serials", join(named, ", "), Code::kBadInput);
  }
  for (const std::string& serial : named) {
    if (const auto on = bound_.serials.find(serial); on != bound_.serials.end()) {
      return refused(fmt::format("number {} of {} is in the kit or on the bike of order {}: it did "
                                 "come",
                                 serial, line_.part.text, on->second.text),
                     "serials", serial);
    }
    const auto mark = std::ranges::find(line_.marked, serial, &trade::Marked::serial);
    taken_.push_back(*mark);
    line_.marked.erase(mark);
  }
  return {};
}

/// As many pieces of a lot as are more than the `pieces` that stay, those of the day first.
void TakenOff::take_lots(PlaceOfPiece place, int pieces, Day day) {
  int more = -pieces;
  for (const trade::Marked& mark : line_.marked) {
    if (mark.place == place) more += mark.pieces;
  }
  for (const bool of_day : {true, false}) {
    for (trade::Marked& mark : line_.marked) {
      const bool is_lot = mark.place == place && mark.serial.empty();
      if (!is_lot || (mark.day == day) != of_day || more <= 0) continue;
      const int taken = std::min(more, mark.pieces);
      more -= taken;
      mark.pieces -= taken;
      taken_.push_back(mark);
      taken_.back().pieces = taken;
    }
  }
}

/// The first delivery is the first of those that are left.
void TakenOff::forget_arrival(const trade::Receipt& receipt) {
  trade::GoodsIn& came = *line_.came;
  if (given_.right > 0) return;
  came.first_arrival.reset();
  for (const trade::Receipt& other : deliveries_of(at_.state, line_)) {
    if (same_delivery(other, receipt)) continue;
    if (!came.first_arrival || other.received < *came.first_arrival) {
      came.first_arrival = other.received;
    }
  }
  if (came.arrived() + came.again + came.written_off == 0) line_.came.reset();
}

}  // namespace rollwright::shop
