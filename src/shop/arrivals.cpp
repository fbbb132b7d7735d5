#include "shop/arrivals.hpp"

#include <algorithm>

#include "base/working_days.hpp"
#include "shop/supply_side.hpp"

namespace rollwright::shop {
namespace {

/// So many working days later, never before the day itself.
Day later(Day from, int working_days, const State& state) {
  return add_working_days(from, working_days, state.settings.closed);
}

void keep_sooner(spec::Arrivals& arrivals, const trade::PartId& part, Day day) {
  const auto [place, is_new] = arrivals.emplace(part, day);
  if (!is_new) place->second = std::min(place->second, day);
}

/// How many pieces a slot for this kind takes; the largest when there are several.
std::map<trade::KindId, int> pieces_of(const trade::Trade& trade,
                                       const trade::BuildTemplate& build) {
  std::map<trade::KindId, int> pieces;
  for (const auto* slots : {&build.required, &build.optional}) {
    for (const trade::SlotId& id : *slots) {
      const trade::Slot* slot = trade::find_slot(trade, id);
      if (slot == nullptr) continue;
      for (const trade::KindId& kind : trade::kinds_for(trade, build, id)) {
        pieces[kind] = std::max(pieces[kind], slot->quantity);
      }
    }
  }
  return pieces;
}

/// What other orders take, so that it is not free: pieces of the shelf, and of purchases.
struct Taken {
  std::map<trade::PartId, int> of_shelf;
  std::map<std::string, int> of_purchase;

  Taken(const std::vector<supply::Cover>& covers, const trade::OrderId& order) {
    for (const supply::Cover& cover : covers) {
      if (cover.need.order == order) continue;
      if (cover.source == supply::Source::kShelf && !cover.put_by) {
        of_shelf[cover.need.part] += cover.need.quantity;
      } else if (cover.source == supply::Source::kPurchase) {
        of_purchase[cover.purchase] += cover.need.quantity;
      }
    }
  }
};

int free_for(const trade::Stock& stock, const trade::OrderId& order, const Taken& taken) {
  int free = stock.on_shelf;
  for (const auto& [other, quantity] : stock.put_by) {
    if (other != order) free -= quantity;
  }
  const auto others = taken.of_shelf.find(stock.part);
  return others == taken.of_shelf.end() ? free : free - others->second;
}

bool has_its_parts(const trade::Order& order) {
  using enum trade::OrderState;
  return order.state >= kKitted && order.state != kAtMaker && order.state != kUnderWay &&
         order.state != kCancelled;
}

}  // namespace

spec::Arrivals bought_now(const State& state, const supply::LeadTimes& lead_times,
                          const LocalTime& now) {
  const double confidence = state.settings.promise_confidence;
  spec::Arrivals arrivals;
  for (const trade::Offer& offer : state.held.offers) {
    const Day placed = day_placed(state, offer.supplier, now);
    keep_sooner(arrivals, offer.part, later(placed, lead_times.days(offer, confidence), state));
  }
  return arrivals;
}

spec::Arrivals arrivals_for(const trade::Trade& trade, const State& state,
                            const supply::LeadTimes& lead_times, const LocalTime& now,
                            const ArrivalsQuestion& question) {
  const trade::OrderId& order = question.order.id;
  const Taken taken(question.covers, order);
  const double confidence = state.settings.promise_confidence;
  spec::Arrivals arrivals = question.bought_now;
  spec::Arrivals for_this_order;
  for (const trade::PurchaseLine& line : state.held.purchases) {
    const int pieces = trade::pieces_to_come(line);
    if (pieces == 0 || (line.order && line.order != order)) continue;
    const auto others = taken.of_purchase.find(line.id);
    if (others != taken.of_purchase.end() && others->second >= pieces) continue;
    const supply::DayOdds left = lead_times.left(line, now.day, state.settings.closed);
    const Day day = later(now.day, supply::days_for(left, confidence), state);
    keep_sooner(line.order ? for_this_order : arrivals, line.part, day);
  }
  for (const auto& [part, day] : for_this_order) arrivals[part] = day;

  const std::map<trade::KindId, int> pieces = pieces_of(trade, question.build);
  for (const trade::Stock& stock : state.held.stock) {
    const trade::Part* part = state.part(stock.part);
    if (part == nullptr) continue;
    const auto wanted = pieces.find(part->kind);
    const int enough = wanted == pieces.end() ? 1 : wanted->second;
    if (free_for(stock, order, taken) >= enough) arrivals[stock.part] = now.day;
  }
  if (has_its_parts(question.order)) {
    for (const auto& [slot, part] : question.order.choices) arrivals[part] = now.day;
  }
  return arrivals;
}

}  // namespace rollwright::shop
