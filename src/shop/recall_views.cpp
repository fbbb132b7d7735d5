#include <algorithm>
#include <set>

#include <fmt/format.h>

#include "base/text.hpp"
#include "shop/bench_papers.hpp"
#include "shop/recall_at.hpp"
#include "shop/shop.hpp"

// What a recall touches, in numbers and sentences.
namespace rollwright::shop {
namespace {

using trade::Certainty;

std::string range_words(const char* what, const std::string& from, const std::string& to) {
  if (from.empty() && to.empty()) return {};
  if (from.empty() || to.empty() || from == to) {
    return fmt::format("{} {}", what, from.empty() ? to : from);
  }
  return fmt::format("{}s {} to {}", what, from, to);
}

std::string part_words(const State& state, const trade::Recall& recall) {
  if (!recall.part.empty()) return state.name_of(recall.part);
  return fmt::format("every {} by {}", recall.kind.text, recall.maker);
}

void add_marked(const State& state, const trade::Recall& recall, const trade::PurchaseLine& line,
                std::vector<RecalledStock>& stock) {
  for (const trade::Marked& mark : line.marked) {
    if (mark.place == trade::PlaceOfPiece::kSentBack) continue;
    const Certainty certainty = trade::certainty_of(
        recall, {.serial = mark.serial, .lot = mark.lot, .came = mark.day, .bound = {}});
    if (certainty == Certainty::kNot) continue;
    stock.push_back({.part = line.part.text, .name = state.name_of(line.part),
                     .pieces = mark.pieces, .certainty = std::string(trade::word_of(certainty)),
                     .sentence = fmt::format("{} × {}, {}: {} when last counted, purchase line {}",
                                             mark.pieces, state.name_of(line.part),
                                             marks_text(mark.serial, mark.lot),
                                             trade::word_of(mark.place), line.id)});
  }
}

/// Pieces of which neither number nor lot is written down.
void add_unmarked(const State& state, const trade::Recall& recall, const trade::PartId& part,
                  std::vector<RecalledStock>& stock) {
  int marked = 0;
  const std::string certainty(trade::word_of(trade::certainty_of(recall, {})));
  const auto add = [&](int pieces, const std::string& where) {
    if (pieces <= 0) return;
    stock.push_back({.part = part.text, .name = state.name_of(part), .pieces = pieces,
                     .certainty = certainty,
                     .sentence = fmt::format("{} × {}, {}", pieces, state.name_of(part), where)});
  };
  for (const trade::PurchaseLine& line : state.held.purchases) {
    if (line.part != part) continue;
    add(trade::pieces_to_come(line), "to come, purchase line " + line.id);
    for (const trade::Marked& mark : line.marked) {
      if (mark.place == trade::PlaceOfPiece::kInStore) marked += mark.pieces;
    }
  }
  const auto shelf = state.stock.find(part);
  if (shelf != state.stock.end()) {
    add(shelf->second->on_shelf - marked, "on the shelf, number and lot not written down");
  }
  for (const trade::Used& used : state.held.rest.used) {
    if (used.part != part) continue;
    add(used.quantity,
        fmt::format("used up on {} for {}", in_words(used.day, true), used.what_for));
  }
}

}  // namespace

Result<std::vector<TouchedBike>> touched_bikes(book::Book& book, const State& state,
                                               const trade::Recall& recall) {
  std::set<trade::PartId> parts = parts_meant(state, recall);
  if (!recall.part.empty()) parts.insert(recall.part);
  std::set<trade::OrderId> candidates;
  for (const auto& [id, order] : state.orders) {
    const bool chosen = std::ranges::any_of(
        order->choices, [&](const auto& choice) { return parts.contains(choice.second); });
    if (chosen) candidates.insert(id);
  }
  if (!parts.empty()) {
    const auto marks = book.find_marks({.parts = {parts.begin(), parts.end()}, .lot_from = {},
                                        .lot_to = {}, .serial_from = {}, .serial_to = {}});
    if (!marks) return std::unexpected(marks.error());
    for (const book::LineFound& mark : *marks) candidates.insert(mark.order);
  }
  std::set<trade::OrderId> spoken_of;
  for (const trade::RecallStep& step : state.held.recall_steps) {
    if (step.recall == recall.number) spoken_of.insert(step.order);
  }
  candidates.insert(spoken_of.begin(), spoken_of.end());
  std::vector<TouchedBike> bikes;
  for (const trade::OrderId& id : candidates) {
    const auto order = state.orders.find(id);
    if (order == state.orders.end()) continue;
    const auto lines = book.bike_lines(id);
    if (!lines) return std::unexpected(lines.error());
    auto pieces = recalled_pieces(state, recall, {.order = *order->second, .lines = *lines});
    if (pieces.empty() && !spoken_of.contains(id)) continue;
    bikes.push_back({.order = order->second, .pieces = std::move(pieces)});
  }
  return bikes;
}

RecallLine recall_line(const State& state, const RecallsNow& now, const trade::Recall& recall,
                       const std::vector<TouchedBike>& bikes) {
  RecallLine line{.number = recall.number, .notice = recall.notice,
                  .part = part_words(state, recall), .wrong = recall.wrong,
                  .danger = recall.danger, .remedy = recall.remedy, .opened = recall.opened,
                  .opened_by = state.name_of(recall.opened_by), .closed = recall.closed};
  for (const TouchedBike& bike : bikes) {
    const trade::RecallStep* last = last_step(now, recall.number, bike.order->id);
    const bool is_fixed = last != nullptr && last->status == trade::RecallStatus::kFixed;
    if (!was_handed_over(bike.order->state)) {
      const bool stopped = bike.order->flags.contains(kStopSale) && !bike.pieces.empty();
      line.held += stopped && !is_fixed && !recall.closed ? 1 : 0;
      continue;
    }
    ++line.riders;
    line.fixed += is_fixed ? 1 : 0;
    line.told += std::ranges::any_of(now.steps, [&](const trade::RecallStep& step) {
      return step.recall == recall.number && step.order == bike.order->id &&
             trade::rider_knows(step.status);
    });
  }
  line.progress = line.riders == 0
                      ? std::string("No bike that was handed over has the part")
                      : fmt::format("{} of {} rider{} told; {} fixed", line.told, line.riders,
                                    line.riders == 1 ? "" : "s", line.fixed);
  return line;
}

std::vector<RecalledStock> recalled_stock(const State& state, const trade::Recall& recall) {
  std::vector<RecalledStock> stock;
  for (const trade::PurchaseLine& line : state.held.purchases) {
    const trade::Part* part = state.part(line.part);
    if (part != nullptr && means(recall, *part)) add_marked(state, recall, line, stock);
  }
  for (const trade::PartId& part : parts_meant(state, recall)) {
    add_unmarked(state, recall, part, stock);
  }
  return stock;
}

std::string ranges_in_words(const trade::Recall& recall) {
  std::vector<std::string> ranges = {range_words("lot", recall.lot_from, recall.lot_to),
                                     range_words("number", recall.serial_from, recall.serial_to)};
  if (recall.day_from || recall.day_to) {
    ranges.push_back(fmt::format(
        "that came{}{}", recall.day_from ? " from " + in_words(*recall.day_from, true) : "",
        recall.day_to ? " until " + in_words(*recall.day_to, true) : ""));
  }
  std::erase(ranges, "");
  return join(ranges, ", ");
}

RecalledBike recalled_bike(const trade::Trade& trade, const RecallDesk::Touched& at,
                           const TouchedBike& bike, const RecalledPiece& piece) {
  const trade::Slot* slot = trade::find_slot(trade, trade::SlotId(piece.slot));
  RecalledBike view{.order = bike.order->id.text, .rider = bike.order->rider.name,
                    .contact = bike.order->rider.contact,
                    .state = std::string(trade::word_of(bike.order->state)),
                    .place = slot == nullptr ? piece.slot : slot->name, .part = piece.part.text,
                    .name = piece.part.empty() ? "not on the bike any more"
                                               : at.state->name_of(piece.part),
                    .serial = piece.serial, .lot = piece.lot,
                    .certainty = std::string(trade::word_of(piece.certainty)),
                    .bound = piece.bound,
                    .stop_sale = bike.order->flags.contains(kStopSale), .status = "not told",
                    .steps = {}};
  for (const trade::RecallStep& step : at.now.steps) {
    if (step.recall != at.recall->number || step.order != bike.order->id) continue;
    view.status = std::string(trade::word_of(step.status));
    view.steps.push_back({.status = view.status, .day = step.day,
                          .who = at.state->name_of(step.who), .channel = step.channel,
                          .note = step.note});
  }
  return view;
}

}  // namespace rollwright::shop
