#include <algorithm>
#include <set>

#include "base/text.hpp"
#include "shop/recall_at.hpp"
#include "shop/shop.hpp"

// Stop-sale goes on and off with whatever makes an open recall touch an order, or no longer: what is
// written of the order, of its bike or of a part.
namespace rollwright::shop {
namespace {

bool is_any_open(const RecallsNow& now) {
  return std::ranges::any_of(now.recalls, [](const trade::Recall& each) { return !each.closed; });
}

std::vector<trade::BikeLine> with_change(std::vector<trade::BikeLine> lines,
                                         const trade::OrderId& order, const book::Change& change) {
  for (const trade::BikeLines& more : change.record) {
    if (more.order == order) lines.insert(lines.end(), more.lines.begin(), more.lines.end());
  }
  return lines;
}

constexpr const char* kReason = "recall ";

void stop_sale(trade::Order& order, const std::vector<std::string>& recalls, trade::FlagSaid said) {
  if (!trade::is_live(order.state) || order.flags.contains(kStopSale)) return;
  said.reason = kReason + listed(recalls);
  order.flags.insert(kStopSale);
  order.flags_said[kStopSale] = std::move(said);
}

/// Orders whose bikes open recalls have pieces on.
Result<std::set<trade::OrderId>> touched_orders(book::Book& book, const State& state,
                                                const RecallsNow& now) {
  std::set<trade::OrderId> orders;
  for (const trade::Recall& recall : now.recalls) {
    if (recall.closed) continue;
    const auto bikes = touched_bikes(book, state, recall);
    if (!bikes) return std::unexpected(bikes.error());
    for (const TouchedBike& bike : *bikes) orders.insert(bike.order->id);
  }
  return orders;
}

/// What a person set for a reason of their own stays.
void take_stop_off(trade::Order& order) {
  const auto said = order.flags_said.find(kStopSale);
  if (said != order.flags_said.end() && !said->second.reason.starts_with(kReason)) return;
  order.flags.erase(kStopSale);
  order.flags_said.erase(kStopSale);
}

}  // namespace

Result<void> RecallDesk::keep_flags(book::Change& change) {
  const bool writes_parts = !change.put.parts.empty();
  if (change.put.orders.empty() && change.record.empty() && !writes_parts) return {};
  const auto state = shop_.state();
  if (!state) return std::unexpected(state.error());
  const RecallsNow before = recalls_now(**state);
  const RecallsNow after = recalls_now(**state, change.put);
  if (!is_any_open(before) && !is_any_open(after)) return {};
  const auto with_parts =
      writes_parts ? next_state(**state, {.parts = change.put.parts}, (*state)->entry) : *state;

  const auto keep = [&](trade::Order& order) -> Result<void> {
    const auto lines = shop_.book_.bike_lines(order.id);
    if (!lines) return std::unexpected(lines.error());
    const auto held = (*state)->orders.find(order.id);
    const bool was =
        held != (*state)->orders.end() &&
        !recalls_on(**state, before, {.order = *held->second, .lines = *lines}).empty();
    const std::vector<std::string> now = recalls_on(
        *with_parts, after, {.order = order, .lines = with_change(*lines, order.id, change)});
    if (!now.empty()) {
      stop_sale(order, now, {.who = change.who, .day = day_of(change.at)});
    } else if (was) {
      take_stop_off(order);
    }
    return {};
  };
  for (trade::Order& order : change.put.orders) {
    if (Result<void> kept = keep(order); !kept) return kept;
  }

  std::set<trade::OrderId> others;
  for (const trade::BikeLines& lines : change.record) others.insert(lines.order);
  if (writes_parts) {
    for (const auto* one : {state->get(), with_parts.get()}) {
      const auto touched = touched_orders(shop_.book_, *one, after);
      if (!touched) return std::unexpected(touched.error());
      others.insert(touched->begin(), touched->end());
    }
  }
  for (const trade::Order& order : change.put.orders) others.erase(order.id);
  for (const trade::OrderId& id : others) {
    const auto held = (*state)->orders.find(id);
    if (held == (*state)->orders.end()) continue;
    trade::Order order = *held->second;
    if (Result<void> kept = keep(order); !kept) return kept;
    if (order.flags != held->second->flags) change.put.orders.push_back(std::move(order));
  }
  return {};
}

}  // namespace rollwright::shop
