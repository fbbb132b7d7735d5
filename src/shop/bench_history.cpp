#include <algorithm>
#include <map>

#include <fmt/format.h>

#include "base/text.hpp"
#include "shop/bench_at.hpp"
#include "shop/maker_at.hpp"
#include "shop/photo_desk.hpp"
#include "shop/shelf_of_care.hpp"
#include "shop/shop.hpp"

// A bike's whole history, and which bikes a part is on.
namespace rollwright::shop {
namespace {

using trade::Deed;

std::string operation_name(const trade::Trade& trade, const std::string& id) {
  const trade::Operation* found = trade::find_operation(trade, id);
  return found == nullptr ? id : fmt::format("{} {}", id, found->name);
}

std::string place_name(const trade::Trade& trade, const std::string& slot) {
  const auto found = std::ranges::find(trade.slots, slot, [](const trade::Slot& each) {
    return each.id.text;
  });
  return found == trade.slots.end() ? slot : found->name;
}

std::string marks_of(const trade::BikeLine& line) {
  std::string text;
  if (!line.serial.empty()) text += ", number " + line.serial;
  if (!line.lot.empty()) text += ", lot " + line.lot;
  if (line.came_by == kElsewhere) return text + ", from elsewhere: none was free on the shelf";
  if (!line.came_by.empty()) text += ", by " + line.came_by;
  return text;
}

std::string read_sentence(const trade::BikeLine& line, const trade::Trade& trade) {
  const auto reading = std::ranges::find(trade.readings, line.reading, &trade::Reading::id);
  const bool known = reading != trade.readings.end();
  std::string text = known ? reading->name : line.reading;
  if (line.point > 0 && known && reading->count > 1) text += fmt::format(", point {}", line.point);
  if (line.value) {
    text += fmt::format(": {}", with_unit(*line.value, known ? reading->unit : std::string(), 2));
  }
  text += fmt::format(", {}", trade::word_of(line.outcome));
  if (!line.limit.empty()) text += fmt::format(" ({})", line.limit);
  if (!line.tool.empty()) text += ", with " + line.tool;
  return text;
}

std::string photograph_of(const trade::BikeLine& line, const trade::Trade& trade) {
  if (line.about.empty()) return "photograph";
  if (line.about == kOfBoxes) return "photograph of the boxes";
  if (line.about == kOfMaker) return "photograph from the maker";
  return "photograph, " + operation_name(trade, line.about);
}

std::string noted(std::string text, const trade::BikeLine& line) {
  return line.note.empty() ? text : text + ": " + line.note;
}

std::string visit_sentence(const trade::BikeLine& line) {
  std::string text = "came back: " + line.about;
  if (line.value) text += fmt::format(", {:g} km", *line.value);
  return text;
}

/// What a part's last line says of where it is.
struct Where {
  const book::LineFound& on;
  std::optional<Instant> off;
};

/// By bike, place and number, in the order in which they came on.
std::vector<Where> where_now(const std::vector<book::LineFound>& marks) {
  std::vector<Where> places;
  for (const book::LineFound& mark : marks) {
    if (mark.line.deed != Deed::kOff) {
      places.push_back({mark, {}});
      continue;
    }
    for (auto place = places.rbegin(); place != places.rend(); ++place) {
      const bool same = place->on.order == mark.order && !place->off &&
                        place->on.line.about == mark.line.about &&
                        place->on.line.serial == mark.line.serial;
      if (!same) continue;
      place->off = mark.line.at;
      break;
    }
  }
  return places;
}

std::vector<TracedStock> stock_traced(const State& state, const TraceWish& wish) {
  const auto in_range = [](const std::string& text, const std::string& from,
                           const std::string& to) {
    if (from.empty() && to.empty()) return true;
    const std::string& low = from.empty() ? to : from;
    const std::string& high = to.empty() ? from : to;
    return text.size() == low.size() && low <= text && text <= high;
  };
  std::vector<TracedStock> stock;
  for (const trade::PurchaseLine& line : state.held.purchases) {
    if (!wish.part.empty() && line.part.text != wish.part) continue;
    for (const trade::Marked& mark : line.marked) {
      if (!in_range(mark.lot, wish.lot_from, wish.lot_to)) continue;
      if (!in_range(mark.serial, wish.serial_from, wish.serial_to)) continue;
      stock.push_back({.part = line.part.text, .name = state.name_of(line.part), .line = line.id,
                       .serial = mark.serial, .lot = mark.lot, .pieces = mark.pieces,
                       .place = std::string(trade::word_of(mark.place))});
    }
  }
  return stock;
}

std::string counted_bikes(const TraceView& view) {
  int certain = 0;
  int possible = 0;
  int was = 0;
  for (const TracedBike& bike : view.bikes) {
    ++(bike.certainty == "certain" ? certain : bike.certainty == "possible" ? possible : was);
  }
  std::string text = fmt::format("{} on {} for certain", certain == 1 ? "One part" : fmt::format(
                                     "{} parts", certain),
                                 "bikes");
  if (certain == 0) text = "On no bike for certain";
  if (possible > 0) {
    text += fmt::format("; {} may be, their lot was not written down", possible);
  }
  if (was > 0) text += fmt::format("; {} taken off again", was);
  return fmt::format("{}. {} at goods-in or on the shelf.", text,
                     view.stock.empty() ? "None"
                                        : fmt::format("{} lines of pieces", view.stock.size()));
}

}  // namespace

std::string sentence_of(const trade::BikeLine& line, const trade::Trade& trade,
                        const State& state) {
  switch (line.deed) {
    case Deed::kKitted:
      return fmt::format("{} into the kit as {}{}", state.name_of(line.part),
                         place_name(trade, line.about), marks_of(line));
    case Deed::kOn:
      return noted(fmt::format("{} put on as {}{}", state.name_of(line.part),
                               place_name(trade, line.about), marks_of(line)),
                   line);
    case Deed::kOff:
      return noted(fmt::format("{} taken off ({}{})", state.name_of(line.part),
                               place_name(trade, line.about), marks_of(line)),
                   line);
    case Deed::kPaired: return fmt::format("{} scanned at the frame", place_name(trade, line.about));
    case Deed::kRead:
      return fmt::format("{}: {}", operation_name(trade, line.about), read_sentence(line, trade));
    case Deed::kChecked:
      return noted(fmt::format("{} {}", line.about, trade::word_of(line.outcome)), line);
    case Deed::kSigned: return noted(fmt::format("signed {}", line.about), line);
    case Deed::kHand: {
      const std::string at = operation_name(trade, line.about);
      if (line.serial.empty()) return noted(fmt::format("{} without a second pair of hands", at), line);
      return fmt::format("{}: {} lent a hand", at, state.name_of(trade::PersonId(line.serial)));
    }
    case Deed::kPhoto: return noted(photograph_of(line, trade), line);
    case Deed::kNoted: return noted("note", line);
    case Deed::kVisit: return noted(visit_sentence(line), line);
    case Deed::kAsked:
      return noted(operation_name(trade, line.about) + " asked for", line);
    case Deed::kBack:
      return noted(line.outcome == trade::Outcome::kPass ? "given back to its rider"
                                                         : "given back, not to be ridden",
                   line);
    case Deed::kReminded: return noted(fmt::format("rider told: {}", line.about), line);
    default:
      return noted(fmt::format("{} {}", operation_name(trade, line.about),
                               trade::word_of(line.deed)),
                   line);
  }
}

Result<HistoryView> BenchDesk::history(const std::string& order) {
  const auto found = shop_.order_at(order);
  if (!found) return std::unexpected(found.error());
  const auto lines = shop_.book_.bike_lines(found->order->id);
  if (!lines) return std::unexpected(lines.error());
  HistoryView view{.order = order, .rider = found->order->rider.name, .build = found->build->name,
                   .state = std::string(trade::word_of(found->order->state)), .lines = {},
                   .journal = {}, .last_hash = {}};
  for (const trade::BikeLine& line : *lines) {
    view.lines.push_back({.number = line.number, .at = iso(line.at),
                          .who = found->state->name_of(line.who),
                          .deed = std::string(trade::word_of(line.deed)),
                          .sentence = sentence_of(line, shop_.trade_, *found->state),
                          .about = line.about,
                          .outcome = std::string(trade::word_of(line.outcome)),
                          .part = line.part.text, .serial = line.serial, .lot = line.lot});
  }
  std::vector<book::Entry> entries;
  std::vector<std::string> subjects = {"order " + order, book::bike_subject(found->order->id)};
  for (std::string& subject : maker_subjects(*found->state, found->order->id)) {
    subjects.push_back(std::move(subject));
  }
  for (const std::string& subject : subjects) {
    const auto about = shop_.book_.all_entries(subject);
    if (!about) return std::unexpected(about.error());
    entries.insert(entries.end(), about->begin(), about->end());
  }
  std::ranges::sort(entries, {}, &book::Entry::seq);
  for (const book::Entry& entry : entries) {
    view.journal.push_back({.entry = entry.seq, .at = iso(entry.at),
                            .who = found->state->name_of(trade::PersonId(entry.who)),
                            .what = entry.what, .why = entry.why, .subject = entry.subject});
  }
  if (!entries.empty()) view.last_hash = entries.back().hash;
  return view;
}

Result<TraceView> BenchDesk::trace(const TraceWish& wish) {
  const auto state = shop_.state();
  if (!state) return std::unexpected(state.error());
  book::MarksWanted wanted{.parts = {}, .lot_from = wish.lot_from, .lot_to = wish.lot_to,
                           .serial_from = wish.serial_from, .serial_to = wish.serial_to};
  if (!wish.part.empty()) {
    if ((*state)->part(trade::PartId(wish.part)) == nullptr) {
      return refuse(Code::kNotFound, "there is no such part in the catalogue",
                    {.field = "part", .value = wish.part});
    }
    wanted.parts = {trade::PartId(wish.part)};
    wanted.unmarked_too = true;
  }
  const auto marks = shop_.book_.find_marks(wanted);
  if (!marks) return std::unexpected(marks.error());
  TraceView view;
  for (const Where& where : where_now(*marks)) {
    const trade::BikeLine& line = where.on.line;
    TracedBike bike{.order = where.on.order.text, .rider = {}, .contact = {}, .state = {},
                    .slot = place_name(shop_.trade_, line.about), .part = line.part.text,
                    .name = (*state)->name_of(line.part), .serial = line.serial, .lot = line.lot,
                    .certainty = {}, .since = iso(line.at),
                    .off = where.off ? iso(*where.off) : std::string()};
    const bool asked_lot = !wish.lot_from.empty() || !wish.lot_to.empty();
    const bool asked_serial = !wish.serial_from.empty() || !wish.serial_to.empty();
    const bool unknown = (asked_lot && line.lot.empty()) || (asked_serial && line.serial.empty());
    bike.certainty = where.off ? "was on" : unknown ? "possible" : "certain";
    const auto order = (*state)->orders.find(where.on.order);
    if (order != (*state)->orders.end()) {
      bike.rider = order->second->rider.name;
      bike.contact = order->second->rider.contact;
      bike.state = std::string(trade::word_of(order->second->state));
    }
    view.bikes.push_back(std::move(bike));
  }
  view.stock = stock_traced(**state, wish);
  view.sentence = counted_bikes(view);
  return view;
}

}  // namespace rollwright::shop
