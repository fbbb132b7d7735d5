#include "shop/miscounts.hpp"

#include <algorithm>

#include "base/text.hpp"
#include "shop/goods_marks.hpp"
#include "shop/goods_shelf.hpp"
#include "shop/miscount_taken.hpp"
#include "shop/order_input.hpp"

namespace rollwright::shop {
namespace {

using supply::Step;
using trade::PlaceOfPiece;

constexpr int kMostCounted = 100'000;

Result<void> given_fits(const MiscountGiven& given) {
  if (Result<void> ok = one_line("why", given.why, kLongestNote); !ok) return ok;
  if (given.why.empty()) {
    return refused("say in a few words why: it stands in the journal", "why", "", Code::kBadInput);
  }
  if (given.counted < 1 || given.counted > kMostCounted) {
    return refused(fmt::format("this is a number of pieces from 1 to {}", kMostCounted), "counted",
                   std::to_string(given.counted), Code::kOutOfRange);
  }
  if (given.right < 0 || given.right > kMostCounted) {
    return refused(fmt::format("this is a number of pieces from 0 to {}", kMostCounted), "right",
                   std::to_string(given.right), Code::kOutOfRange);
  }
  if (given.right == given.counted) {
    return refused(fmt::format("{} were counted and {} are right: nothing is to be changed",
                               given.counted, given.right),
                   "right", std::to_string(given.right), Code::kContradiction);
  }
  if (!given.right_line.empty() && given.right > given.counted) {
    return refused("pieces belong to another line when too many were counted here, not too few",
                   "right_line", given.right_line, Code::kContradiction);
  }
  return {};
}

Result<trade::Receipt> delivery_meant(const GoodsInAt& at, const trade::PurchaseLine& line,
                                      const MiscountGiven& given) {
  std::vector<std::string> known;
  for (const trade::Receipt& receipt : deliveries_of(at.state, line)) {
    const bool is_meant = receipt.quantity == given.counted &&
                          (!given.day || *given.day == receipt.received);
    if (is_meant) return receipt;
    known.push_back(fmt::format("{} on {}", receipt.quantity, in_short(receipt.received)));
  }
  return refused(fmt::format("no delivery of {} was booked in on line {}{}; {}",
                             pieces_words(given.counted), line.id,
                             given.day ? " on " + in_short(*given.day) : "",
                             known.empty() ? "nothing was" : "there is " + listed(known)),
                 "counted", std::to_string(given.counted), Code::kNotFound);
}

/// The receipt with another count; two of a day that come to be the same are one, as good as its
/// worst.
trade::Receipt recounted(const State& state, trade::Receipt receipt, int pieces) {
  receipt.quantity = pieces;
  for (const trade::Receipt& held : state.held.receipts) {
    if (same_delivery(held, receipt) && receipt.condition == "good") {
      receipt.condition = held.condition;
    }
  }
  return receipt;
}

/// Whether another line's delivery of the same day and count is told by the same receipt.
bool is_shared(const State& state, const trade::PurchaseLine& line, const trade::Receipt& receipt) {
  return std::ranges::any_of(state.held.purchases, [&](const trade::PurchaseLine& other) {
    const bool alike = other.id != line.id && other.supplier == line.supplier &&
                       other.part == line.part && other.came &&
                       trade::waited_since(other) == receipt.ordered;
    return alike && other.came->arrived() >= receipt.quantity && other.came->first_arrival &&
           *other.came->first_arrival <= receipt.received;
  });
}

/// Pieces onto a line on the day of a delivery.
struct Further {
  int to_look_at = 0;
  int accepted = 0;
  std::vector<std::string> serials;   // to be noted
  std::string lot;
  std::vector<trade::Marked> marks;   // as they were noted already
};

/// Returns how many were put by.
Result<int> add_further(const GoodsInAt& at, trade::PurchaseLine& line, const Further& more,
                        Day day, trade::Stock& stock) {
  line.came = trade::goods_in_of(line);
  const int all = more.to_look_at + more.accepted;
  if (line.state == trade::PurchaseState::kWanted) {
    return refused(fmt::format("line {} is only wanted: nothing was ordered on it yet", line.id));
  }
  if (const int open = line.came->outstanding(); all > open) {
    return refused(fmt::format("line {} is for {}, of which {} {} still to come: {} more cannot be "
                               "its",
                               line.id, pieces_words(line.came->ordered), open,
                               open == 1 ? "is" : "are", all),
                   "right", std::to_string(all));
  }
  const std::pair<Step, int> steps[] = {{Step::kUnload, all}, {Step::kAccept, more.accepted}};
  for (const auto& [step, pieces] : steps) {
    if (pieces == 0) continue;
    const Result<trade::GoodsIn> next = supply::after(*line.came, step, pieces, day);
    if (!next) return std::unexpected(next.error());
    line.came = *next;
  }
  line.came->first_arrival = std::min(line.came->first_arrival.value_or(day), day);
  line.marked.insert(line.marked.end(), more.marks.begin(), more.marks.end());
  const bool asked = more.accepted > 0 && more.marks.empty() &&
                     asks_serial(at.trade, at.state, line.part);
  const Result<void> marked =
      add_marks(at.state, line, asked,
                {.serials = more.serials, .lot = more.lot, .pieces = more.accepted,
                 .place = trade::PlaceOfPiece::kInStore, .day = day});
  if (!marked) return std::unexpected(marked.error());
  const int kept = more.accepted > 0 ? shelve(at, line, more.accepted, stock) : 0;
  line.state = state_after(line, kept);
  return kept;
}

/// The lot of the day's pieces when they have one and the same.
std::string lot_of(const trade::PurchaseLine& line, Day day) {
  std::set<std::string> lots;
  for (const trade::Marked& mark : line.marked) {
    if (mark.day == day) lots.insert(mark.lot);
  }
  return lots.size() == 1 ? *lots.begin() : std::string();
}

/// Everything that a miscount changes, step by step.
class Correcting {
 public:
  Correcting(const GoodsInAt& at, const trade::PurchaseLine& held, const MiscountGiven& given,
             const Bound& bound)
      : at_(at), held_(held), given_(given), bound_(bound) {}

  Result<Miscounted> done() {
    const Result<trade::Receipt> receipt = delivery_meant(at_, held_, given_);
    if (!receipt) return std::unexpected(receipt.error());
    stock_.emplace(held_.part, stock_of(at_.state, held_.part));
    const Result<void> counted =
        given_.right < given_.counted ? too_many(*receipt) : too_few(*receipt);
    if (!counted) return std::unexpected(counted.error());
    if (given_.right > 0) {
      result_.receipts.push_back(recounted(at_.state, *receipt, given_.right));
    }
    const bool stays = is_shared(at_.state, held_, *receipt) ||
                       std::ranges::any_of(result_.receipts, [&](const trade::Receipt& put) {
                         return same_delivery(put, *receipt);
                       });
    if (!stays) result_.gone.push_back(*receipt);
    for (auto& [part, stock] : stock_) result_.stock.push_back(std::move(stock));
    result_.why = fmt::format("{} of {} came on line {} on {}, not {}{}; {}", given_.right,
                              held_.part.text, held_.id, in_short(receipt->received),
                              given_.counted, told_, given_.why);
    return std::move(result_);
  }

 private:
  Result<void> too_many(const trade::Receipt& receipt) {
    TakenOff off(at_, held_, given_, bound_);
    const int pieces = given_.counted - given_.right;
    if (Result<void> ok = off.take(pieces, receipt, stock_.at(held_.part)); !ok) return ok;
    result_.lines.push_back(off.line());
    return given_.right_line.empty() ? Result<void>() : belongs_to(off, receipt);
  }

  Result<void> too_few(const trade::Receipt& receipt) {
    trade::PurchaseLine line = held_;
    const Result<int> kept =
        add_further(at_, line,
                    {.accepted = given_.right - given_.counted, .serials = given_.serials,
                     .lot = lot_of(held_, receipt.received), .marks = {}},
                    receipt.received, stock_.at(held_.part));
    if (!kept) return std::unexpected(kept.error());
    if (*kept > 0) told_ = fmt::format(", {} more put by for order {}", *kept, line.order->text);
    result_.lines.push_back(std::move(line));
    return {};
  }

  Result<void> belongs_to(const TakenOff& off, const trade::Receipt& receipt) {
    const auto found = line_called(at_.state, given_.right_line);
    if (!found) {
      return refuse(found.error().code, found.error().sentence,
                    {.field = "right_line", .value = given_.right_line});
    }
    trade::PurchaseLine line = **found;
    const auto wrong = [&](std::string sentence) {
      return refused(std::move(sentence), "right_line", given_.right_line);
    };
    if (line.id == held_.id) return wrong("this is the line on which they were booked in");
    if (receipt.received < trade::waited_since(line)) {
      return wrong(fmt::format("line {} was placed on {}, after this delivery came on {}", line.id,
                               in_words(trade::waited_since(line)), in_words(receipt.received)));
    }
    if (off.quarantined() > 0) {
      return wrong(fmt::format("{} of these {} in quarantine; book those in on line {} by hand",
                               off.quarantined(), off.quarantined() == 1 ? "is" : "are", line.id));
    }
    Further more{.to_look_at = off.to_look_at(), .accepted = off.accepted(), .serials = {},
                 .lot = {}, .marks = {}};
    if (line.part == held_.part) {
      more.marks = off.marks();
    } else {
      for (const trade::Marked& mark : off.marks()) {
        if (!mark.serial.empty()) more.serials.push_back(mark.serial);
        if (more.lot.empty()) more.lot = mark.lot;
      }
    }
    trade::Stock& stock = stock_.try_emplace(line.part, stock_of(at_.state, line.part))
                              .first->second;
    const Result<int> kept = add_further(at_, line, more, receipt.received, stock);
    if (!kept) {
      Error error = kept.error();
      if (error.place.field == "line" || error.place.field == "right") {
        error.place = {.field = "right_line", .value = given_.right_line};
      }
      return std::unexpected(error);
    }
    told_ = fmt::format(": {} on line {} ({}){}", given_.counted - given_.right, line.id,
                        line.part.text,
                        *kept > 0 ? fmt::format(", {} put by for order {}", *kept, line.order->text)
                                  : "");
    result_.receipts.push_back(recounted(
        at_.state,
        {.supplier = line.supplier, .part = line.part, .ordered = trade::waited_since(line),
         .promised = line.confirmed, .received = receipt.received, .condition = "good"},
        given_.counted - given_.right));
    result_.lines.push_back(std::move(line));
    return {};
  }

  const GoodsInAt& at_;
  const trade::PurchaseLine& held_;
  const MiscountGiven& given_;
  const Bound& bound_;
  std::map<trade::PartId, trade::Stock> stock_;
  Miscounted result_;
  std::string told_;
};

}  // namespace

std::vector<trade::Receipt> deliveries_of(const State& state, const trade::PurchaseLine& line) {
  std::vector<trade::Receipt> deliveries;
  const trade::GoodsIn pieces = trade::goods_in_of(line);
  for (const trade::Receipt& receipt : state.held.receipts) {
    const bool is_part = receipt.supplier == line.supplier && receipt.part == line.part;
    const bool is_wait = receipt.ordered == line.placed || receipt.ordered == line.placed_again;
    if (!is_part || !is_wait || !line.came || receipt.quantity > pieces.arrived()) continue;
    if (pieces.first_arrival && receipt.received < *pieces.first_arrival) continue;
    deliveries.push_back(receipt);
  }
  std::ranges::stable_sort(deliveries, std::greater<>{}, &trade::Receipt::received);
  return deliveries;
}

Bound bound_to_bikes(const std::vector<book::LineFound>& marks) {
  Bound bound;
  for (const book::LineFound& mark : marks) {
    const bool is_off = mark.line.deed == trade::Deed::kOff;
    bound.pieces[mark.order] += is_off ? -1 : 1;
    if (mark.line.serial.empty()) continue;
    if (is_off) {
      bound.serials.erase(mark.line.serial);
    } else {
      bound.serials.insert_or_assign(mark.line.serial, mark.order);
    }
  }
  std::erase_if(bound.pieces, [](const auto& each) { return each.second <= 0; });
  return bound;
}

Result<Miscounted> miscounted(const GoodsInAt& at, const trade::PurchaseLine& line,
                              const MiscountGiven& given, const Bound& bound) {
  if (Result<void> ok = given_fits(given); !ok) return std::unexpected(ok.error());
  return Correcting(at, line, given, bound).done();
}

}  // namespace rollwright::shop
