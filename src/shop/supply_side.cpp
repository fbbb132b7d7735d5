#include "shop/supply_side.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "base/working_days.hpp"
#include "shop/bike.hpp"

namespace rollwright::shop {
namespace {

/// What the order waits for: all its parts, or the maker's bike, which is the part in `frame`.
trade::Order as_needed(const trade::Trade& trade, const trade::Order& order) {
  const auto build = trade.templates.find(order.build);
  if (build == trade.templates.end() || !build->second.maker_built) return order;
  trade::Order bike_only = order;
  std::erase_if(bike_only.choices, [](const auto& choice) { return choice.first.text != "frame"; });
  return bike_only;
}

}  // namespace

bool gathers_parts(const trade::Order& order) {
  using enum trade::OrderState;
  return order.state == kAgreed || order.state == kGathering || order.state == kAtMaker ||
         order.state == kUnderWay;
}

int building_days(double hands_on_minutes) {
  return 2 + static_cast<int>(std::ceil(hands_on_minutes / 240));
}

Day ready_day(Day kit, double hands_on_minutes, const std::vector<Day>& closed) {
  return add_working_days(kit, building_days(hands_on_minutes), closed);
}

Day kit_day(const trade::Order& order, Day today, double hands_on_minutes,
            const std::vector<Day>& closed) {
  const Day due = order.promised.value_or(
      order.needed_by.value_or(add_working_days(today, 30, closed)));
  return add_working_days(due, -building_days(hands_on_minutes), closed);
}

namespace {

/// Nine times in ten by the simulation alone, as it stood when each day was promised.
std::map<trade::OrderId, Day> simulated_days(const State& state) {
  std::map<trade::OrderId, Day> days;
  for (const trade::PromiseSaid& promise : state.held.promises) {
    days[promise.order] = promise.day_90;
  }
  return days;
}

}  // namespace

std::vector<supply::Cover> covers_of(const trade::Trade& trade, const State& state, Day today,
                                     const trade::Order* also) {
  std::vector<supply::Wanting> wanting;
  const std::map<trade::OrderId, Day> simulated = simulated_days(state);
  const auto add = [&](const trade::Order& order, double minutes) {
    Day kit = kit_day(order, today, minutes, state.settings.closed);
    if (const auto sooner = simulated.find(order.id); sooner != simulated.end()) {
      kit = std::min(kit, add_working_days(sooner->second, -building_days(minutes),
                                           state.settings.closed));
    }
    // What may follow is wanted for the audit, on the last day of building.
    const int until_audit = building_days(minutes) - 1;
    wanting.push_back({.order = as_needed(trade, order), .kit = kit,
                       .follow = add_working_days(kit, until_audit, state.settings.closed)});
  };
  for (const trade::Order& order : state.held.orders) {
    if (!gathers_parts(order)) continue;
    add(order, state.catalogue->minutes.once(
                   order, [&] { return hands_on_minutes(trade, state, order); }));
  }
  if (also != nullptr && !gathers_parts(*also)) add(*also, hands_on_minutes(trade, state, *also));
  return supply::cover(supply::explode(trade, state.held.parts, wanting), state.held.stock,
                       state.held.purchases);
}

std::vector<supply::StillOpen> still_open(const State& state) {
  Day last = Day::min();
  for (const trade::Receipt& receipt : state.held.receipts) last = std::max(last, receipt.received);
  for (const trade::PurchaseLine& line : state.held.purchases) {
    last = std::max(last, trade::waited_since(line));
  }
  std::vector<supply::StillOpen> open;
  for (const trade::PurchaseLine& line : state.held.purchases) {
    if (!trade::is_under_way(line.state)) continue;
    const trade::GoodsIn pieces = trade::goods_in_of(line);
    // What was sent for once more is waited for anew; of it nothing may have come.
    const int here = pieces.arrived() - (line.placed_again ? pieces.sent_back : 0);
    if (pieces.outstanding() == 0 || here > 0) continue;
    open.push_back({line.supplier, line.part, trade::waited_since(line), last});
  }
  return open;
}

std::shared_ptr<const supply::LeadTimes> lead_times_of(const trade::Trade& trade,
                                                       const State& state) {
  const auto group_of = supply::lead_time_groups(trade, state.held.parts);
  return state.all_else->learned_once(group_of, [&] {
    return std::make_shared<const supply::LeadTimes>(trade.lead_times, group_of,
                                                     state.held.receipts, state.held.offers,
                                                     supply::Roads(state.all_else->terms.freight_legs,
                                                                   state.held.suppliers),
                                                     still_open(state));
  });
}

const trade::Offer* offer_of(const State& state, const trade::SupplierId& supplier,
                             const trade::PartId& part) {
  for (const trade::Offer& offer : state.held.offers) {
    if (offer.part == part && offer.supplier == supplier) return &offer;
  }
  return nullptr;
}

const trade::Offer* soonest_offer(const State& state, const supply::LeadTimes& lead_times,
                                  const trade::PartId& part) {
  const trade::Offer* best = nullptr;
  int best_days = 0;
  for (const trade::Offer& offer : state.held.offers) {
    if (offer.part != part) continue;
    const int days = lead_times.days(offer, 0.9);
    if (best == nullptr || days < best_days) {
      best = &offer;
      best_days = days;
    }
  }
  return best;
}

Day day_placed(const State& state, const trade::SupplierId& supplier, const LocalTime& now) {
  const auto known = state.suppliers.find(supplier);
  const bool today =
      is_working_day(now.day, state.settings.closed) &&
      (known == state.suppliers.end() || now.minute < known->second->cut_off_minute);
  return today ? now.day : add_working_days(now.day, 1, state.settings.closed);
}

Whereabouts whereabouts(const State& state, const std::vector<supply::Cover>& covers,
                        const trade::Order& order, const trade::PartId& part) {
  Whereabouts where;
  bool found = false;
  for (const supply::Cover& cover : covers) {
    if (cover.need.order != order.id || cover.need.part != part) continue;
    if (!found) where.in_hand = true;
    found = true;
    switch (cover.source) {
      case supply::Source::kShelf:
        if (where.words.empty()) where.words = cover.put_by ? "put by" : "in store";
        break;
      case supply::Source::kPurchase: {
        where.in_hand = false;
        where.words = "under way";
        for (const trade::PurchaseLine& line : state.held.purchases) {
          if (line.id != cover.purchase || !line.confirmed) continue;
          where.day = where.day ? std::max(*where.day, *line.confirmed) : *line.confirmed;
          where.words = in_short(*where.day);
        }
        break;
      }
      case supply::Source::kToBuy:
        return {.words = "not bought", .day = {}, .in_hand = false};
    }
  }
  if (found) return where;
  using enum trade::OrderState;
  const bool has_its_parts = order.state >= kKitted && order.state != kAtMaker &&
                             order.state != kUnderWay && order.state != kCancelled;
  if (has_its_parts) return {.words = "on the bike", .day = {}, .in_hand = true};
  const auto stock = state.stock.find(part);
  const bool is_free = stock != state.stock.end() && trade::free_pieces(*stock->second) > 0;
  return {.words = is_free ? "in store" : "", .day = {}, .in_hand = false};
}

}  // namespace rollwright::shop
