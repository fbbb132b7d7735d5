#include "shop/goods_in.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "shop/goods_marks.hpp"
#include "shop/goods_shelf.hpp"
#include "shop/order_input.hpp"
#include "shop/supply_side.hpp"
#include "supply/freight_ways.hpp"
#include "trade/meant.hpp"

namespace rollwright::shop {
namespace {

using supply::Step;
using trade::PlaceOfPiece;
using trade::PurchaseState;
using trade::Trouble;

constexpr int kMostPieces = 100'000;

Result<void> take(trade::PurchaseLine& line, Step step, int pieces, Day today) {
  if (pieces == 0) return {};
  Result<trade::GoodsIn> next = supply::after(*line.came, step, pieces, today);
  if (!next) return std::unexpected(next.error());
  line.came = *next;
  return {};
}

Result<std::string> carrier_of(const GoodsInAt& at, const trade::PurchaseLine& line,
                               const std::string& given) {
  if (!given.empty()) {
    if (given != "any" && std::ranges::count(trade::all_carriers(), given) > 0) return given;
    return refused("a carrier is parcel, road, rail, sea or air", "carrier", given,
                   Code::kBadInput);
  }
  const auto way = lead_times_of(at.trade, at.state)->way_of(line);
  return way == nullptr ? "parcel" : way->carrier;
}

Result<void> open_claim(const GoodsInAt& at, trade::PurchaseLine& line, trade::Claim claim) {
  if (claim.pieces == 0) return {};
  const auto supplier = at.state.suppliers.find(line.supplier);
  std::map<Trouble, int> own;
  if (supplier != at.state.suppliers.end()) own = supplier->second->claim_days;
  // Hidden damage is counted from the day the goods came, all else from the day it was found, which
  // for a delivery is the same.
  const Day from = claim.trouble == Trouble::kDamageHidden
                       ? line.came->first_arrival.value_or(at.today)
                       : at.today;
  claim.found = at.today;
  const auto clock =
      supply::claim_clock(at.state.all_else->terms.claim_windows, own, claim.trouble,
                          claim.carrier, from);
  claim.tell_by = clock ? clock->tell_by : at.today;
  claim.terms = clock ? clock->terms : "no days on file: ask the supplier today";
  line.claims.push_back(std::move(claim));
  return {};
}

/// Good, or the worst that was wrong with it: lead times are learned from this word.
std::string condition_of(const Received& given) {
  if (given.wrong > 0) return "wrong";
  if (given.damaged + given.hidden > 0) return "damaged";
  return given.missing > 0 ? "short" : "good";
}

trade::Receipt receipt_for(const GoodsInAt& at, const trade::PurchaseLine& line, int pieces,
                           std::string condition) {
  trade::Receipt receipt{.supplier = line.supplier, .part = line.part, .quantity = pieces,
                         .ordered = trade::waited_since(line), .promised = line.confirmed,
                         .received = at.today, .condition = std::move(condition)};
  // The same part, supplier, days and count again is one delivery; it was as good as its worst.
  for (const trade::Receipt& held : at.state.held.receipts) {
    const bool same = held.supplier == receipt.supplier && held.part == receipt.part &&
                      held.ordered == receipt.ordered && held.received == receipt.received &&
                      held.quantity == receipt.quantity;
    if (same && receipt.condition == "good") receipt.condition = held.condition;
  }
  return receipt;
}

/// The newest receipt of the line's part since it was placed, now said to be in this condition.
std::optional<trade::Receipt> receipt_corrected(const GoodsInAt& at,
                                                const trade::PurchaseLine& line,
                                                const std::string& condition) {
  const trade::Receipt* newest = nullptr;
  for (const trade::Receipt& held : at.state.held.receipts) {
    if (held.supplier != line.supplier || held.part != line.part) continue;
    if (held.ordered != trade::waited_since(line)) continue;
    if (newest == nullptr || newest->received < held.received) newest = &held;
  }
  if (newest == nullptr || newest->condition == condition) return std::nullopt;
  trade::Receipt corrected = *newest;
  corrected.condition = condition;
  return corrected;
}

Result<void> counts_fit(const trade::PurchaseLine& line, const Received& given) {
  const std::pair<const char*, int> counts[] = {
      {"quantity", given.quantity}, {"to_look_at", given.to_look_at}, {"wrong", given.wrong},
      {"damaged", given.damaged},   {"hidden", given.hidden},         {"missing", given.missing}};
  for (const auto& [field, count] : counts) {
    if (0 <= count && count <= kMostPieces) continue;
    return refused(fmt::format("this is a number of pieces from 0 to {}", kMostPieces), field,
                   std::to_string(count), Code::kOutOfRange);
  }
  if (given.quantity + given.missing == 0) {
    return refused("say how many pieces came, or how many are missing", "quantity", "0",
                   Code::kOutOfRange);
  }
  const int apart = given.to_look_at + given.wrong + given.damaged + given.hidden;
  if (apart > given.quantity) {
    return refused(fmt::format("{} came, so {} cannot be wrong, damaged or still to look at",
                               pieces_words(given.quantity), apart),
                   "quantity", std::to_string(given.quantity), Code::kContradiction);
  }
  const trade::GoodsIn pieces = trade::goods_in_of(line);
  const int came = given.quantity + given.missing;
  if (came > pieces.outstanding()) {
    return refused(fmt::format("line {} is for {}, of which {} still to come: not {}. Count again; "
                               "what is too much belongs to another line, or goes back",
                               line.id, pieces_words(pieces.ordered),
                               pieces.outstanding() == 1
                                   ? std::string("1 is")
                                   : fmt::format("{} are", pieces.outstanding()),
                               came),
                   "quantity", std::to_string(came));
  }
  return {};
}

Result<void> is_open(const trade::PurchaseLine& line) {
  if (line.state == PurchaseState::kWanted) {
    return refused(fmt::format("line {} is only wanted: nothing was ordered on it yet", line.id),
                   "line", line.id);
  }
  if (trade::goods_in_of(line).outstanding() > 0) return {};
  return refused(fmt::format("line {} is closed ({}): nothing is to come on it", line.id,
                             trade::word_of(line.state)),
                 "line", line.id);
}

std::string told(const trade::PurchaseLine& line, const Received& given, int good, int kept) {
  std::vector<std::string> said = {fmt::format("{} of {} came on line {}",
                                               pieces_words(given.quantity), line.part.text,
                                               line.id)};
  const auto add = [&said](int count, std::string_view what) {
    if (count > 0) said.push_back(fmt::format("{} {}", count, what));
  };
  add(good, "good");
  if (kept > 0) said.push_back(fmt::format("{} put by for order {}", kept, line.order->text));
  add(given.to_look_at, "to look at");
  add(given.wrong, "wrong");
  add(given.damaged, "damaged");
  add(given.hidden, "with hidden damage");
  add(given.missing, "missing");
  if (!given.note.empty()) said.push_back(given.note);
  return join(said, "; ");
}

}  // namespace

Result<const trade::PurchaseLine*> line_called(const State& state, const std::string& id) {
  std::vector<std::string> known;
  for (const trade::PurchaseLine& line : state.held.purchases) {
    if (line.id == id) return &line;
    known.push_back(line.id);
  }
  return refused("there is no purchase line of this number" + trade::meant(id, known), "line", id,
                 Code::kNotFound);
}

Result<BookedIn> received(const GoodsInAt& at, const trade::PurchaseLine& held,
                          const Received& given) {
  if (Result<void> ok = is_open(held); !ok) return std::unexpected(ok.error());
  if (Result<void> ok = counts_fit(held, given); !ok) return std::unexpected(ok.error());
  if (Result<void> ok = one_line("note", given.note, kLongestNote); !ok) {
    return std::unexpected(ok.error());
  }
  const Result<std::string> carrier = carrier_of(at, held, given.carrier);
  if (!carrier) return std::unexpected(carrier.error());
  BookedIn booked{.line = held, .stock = {}, .receipt = {}, .why = {}};
  trade::PurchaseLine& line = booked.line;
  line.came = trade::goods_in_of(held);
  const int bad = given.wrong + given.damaged + given.hidden;
  const int good = given.quantity - given.to_look_at - bad;
  const std::pair<Step, int> steps[] = {{Step::kUnload, given.quantity},
                                        {Step::kAccept, good},
                                        {Step::kQuarantine, bad},
                                        {Step::kWriteOff, given.missing}};
  for (const auto& [step, pieces] : steps) {
    if (Result<void> ok = take(line, step, pieces, at.today); !ok) {
      return std::unexpected(ok.error());
    }
  }
  const Result<void> marked =
      add_marks(at.state, line, good > 0 && asks_serial(at.trade, at.state, line.part),
                {.serials = given.serials, .lot = given.lot, .pieces = good,
                 .place = PlaceOfPiece::kInStore, .day = at.today});
  if (!marked) return std::unexpected(marked.error());
  const std::pair<Trouble, int> troubles[] = {{Trouble::kWrong, given.wrong},
                                              {Trouble::kDamageSeen, given.damaged},
                                              {Trouble::kDamageHidden, given.hidden},
                                              {Trouble::kShort, given.missing}};
  for (const auto& [trouble, pieces] : troubles) {
    const Result<void> opened =
        open_claim(at, line, {.trouble = trouble, .pieces = pieces, .carrier = *carrier,
                              .terms = {}, .outcome = {}, .note = given.note});
    if (!opened) return std::unexpected(opened.error());
  }
  int kept = 0;
  if (good > 0) {
    booked.stock = stock_of(at.state, line.part);
    kept = shelve(at, line, good, *booked.stock);
  }
  if (given.quantity > 0) {
    booked.receipt = receipt_for(at, line, given.quantity, condition_of(given));
  }
  line.state = state_after(line, kept);
  booked.why = told(line, given, good, kept);
  return booked;
}

namespace {

/// One step of a line, piece by piece of what it changes.
class Stepping {
 public:
  Stepping(const GoodsInAt& at, const trade::PurchaseLine& held, const GoodsStepGiven& given)
      : at_(at), given_(given), booked_{.line = held, .stock = {}, .receipt = {}, .why = {}} {
    booked_.line.came = trade::goods_in_of(held);
  }

  Result<BookedIn> take_step(Step step) {
    if (Result<void> ok = trouble_for(step); !ok) return std::unexpected(ok.error());
    Result<trade::GoodsIn> next =
        supply::after(*booked_.line.came, step, given_.pieces, at_.today);
    if (!next) return std::unexpected(next.error());
    booked_.line.came = *next;
    if (Result<void> ok = follow(step); !ok) return std::unexpected(ok.error());
    booked_.line.state = state_after(booked_.line, kept_);
    booked_.why = fmt::format("{}: {} of {} on line {}{}{}{}", given_.step,
                              pieces_words(given_.pieces), booked_.line.part.text,
                              booked_.line.id, given_.trouble.empty() ? "" : ", " + given_.trouble,
                              kept_ > 0 ? ", put by for order " + booked_.line.order->text : "",
                              given_.note.empty() ? "" : "; " + given_.note);
    return std::move(booked_);
  }

 private:
  Result<void> trouble_for(Step step) {
    const bool asks = step == Step::kQuarantine || step == Step::kFindBad;
    if (!asks && given_.trouble.empty()) return {};
    const std::optional<Trouble> trouble = trade::trouble_named(given_.trouble);
    if (trouble && *trouble != Trouble::kLate) return {};
    return refused("say what is wrong: short, wrong, damage seen or damage hidden", "trouble",
                   given_.trouble, Code::kBadInput);
  }

  Result<void> follow(Step step) {
    switch (step) {
      case Step::kAccept: return accept();
      case Step::kRelease: return release();
      case Step::kQuarantine: return quarantine();
      case Step::kFindBad: return find_bad();
      case Step::kSendBack: return moved(PlaceOfPiece::kQuarantined, PlaceOfPiece::kSentBack);
      case Step::kSendAgain:
        booked_.line.placed_again = at_.today;
        booked_.line.confirmed.reset();
        booked_.line.legs.clear();
        return {};
      case Step::kWriteOff: return claim(Trouble::kShort);
      case Step::kUnload:
        booked_.receipt = receipt_for(at_, booked_.line, given_.pieces, "good");
        return {};
      case Step::kStillComes: return {};
    }
    return {};
  }

  Result<void> moved(PlaceOfPiece from, PlaceOfPiece to) {
    return move_marks(booked_.line, from, {.serials = given_.serials, .lot = {},
                                           .pieces = given_.pieces, .place = to,
                                           .day = at_.today});
  }
  void shelve_all() {
    booked_.stock = stock_of(at_.state, booked_.line.part);
    kept_ = shelve(at_, booked_.line, given_.pieces, *booked_.stock);
  }
  bool asked() const { return asks_serial(at_.trade, at_.state, booked_.line.part); }

  Result<void> accept() {
    shelve_all();
    return add_marks(at_.state, booked_.line, asked(),
                     {.serials = given_.serials, .lot = {}, .pieces = given_.pieces,
                      .place = PlaceOfPiece::kInStore, .day = at_.today});
  }
  Result<void> release() {
    shelve_all();
    const bool has_numbers = std::ranges::any_of(booked_.line.marked, [](const auto& marked) {
      return marked.place == PlaceOfPiece::kQuarantined && !marked.serial.empty();
    });
    if (!asked() || has_numbers) return moved(PlaceOfPiece::kQuarantined, PlaceOfPiece::kInStore);
    return add_marks(at_.state, booked_.line, true,
                     {.serials = given_.serials, .lot = {}, .pieces = given_.pieces,
                      .place = PlaceOfPiece::kInStore, .day = at_.today});
  }
  Result<void> quarantine() {
    const Result<void> marked =
        add_marks(at_.state, booked_.line, false,
                  {.serials = given_.serials, .lot = {}, .pieces = given_.pieces,
                   .place = PlaceOfPiece::kQuarantined, .day = at_.today});
    return marked ? claim(Trouble::kWrong) : marked;
  }
  Result<void> find_bad() {
    booked_.stock = stock_of(at_.state, booked_.line.part);
    if (Result<void> ok = unshelve(booked_.line, given_.pieces, *booked_.stock); !ok) return ok;
    if (Result<void> ok = moved(PlaceOfPiece::kInStore, PlaceOfPiece::kQuarantined); !ok) return ok;
    return claim(Trouble::kWrong);
  }

  /// Opens the claim of the trouble that was named, and says so on the receipt.
  Result<void> claim(Trouble otherwise) {
    const Trouble trouble = trade::trouble_named(given_.trouble).value_or(otherwise);
    const Result<std::string> carrier = carrier_of(at_, booked_.line, given_.carrier);
    if (!carrier) return std::unexpected(carrier.error());
    const char* condition = trouble == Trouble::kShort ? "short"
                            : trouble == Trouble::kWrong ? "wrong"
                                                         : "damaged";
    booked_.receipt = receipt_corrected(at_, booked_.line, condition);
    return open_claim(at_, booked_.line,
                      {.trouble = trouble, .pieces = given_.pieces, .carrier = *carrier,
                       .terms = {}, .outcome = {}, .note = given_.note});
  }

  const GoodsInAt& at_;
  const GoodsStepGiven& given_;
  BookedIn booked_;
  int kept_ = 0;
};

}  // namespace

Result<BookedIn> stepped(const GoodsInAt& at, const trade::PurchaseLine& held,
                         const GoodsStepGiven& given) {
  const std::optional<Step> step = supply::step_named(given.step);
  if (!step) {
    return refused("no step at goods-in is called so; there are " + listed(supply::all_steps()),
                   "step", given.step, Code::kBadInput);
  }
  if (held.state == PurchaseState::kWanted) {
    return refused(fmt::format("line {} is only wanted: nothing was ordered on it yet", held.id),
                   "line", held.id);
  }
  if (Result<void> ok = one_line("note", given.note, kLongestNote); !ok) {
    return std::unexpected(ok.error());
  }
  return Stepping(at, held, given).take_step(*step);
}

}  // namespace rollwright::shop
