#include <algorithm>

#include "base/text.hpp"
#include "shop/recall_at.hpp"
#include "shop/shop.hpp"

// Stop-sale goes on and off with whatever makes an open recall touch an order, or no longer.
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

/// Orders whose bikes a change writes of are looked at too.
void add_written_bikes(const State& state, book::Change& change) {
  for (const trade::BikeLines& lines : change.record) {
    const auto held = state.orders.find(lines.order);
    const bool there =
        std::ranges::count(change.put.orders, lines.order, &trade::Order::id) > 0;
    if (held != state.orders.end() && !there) change.put.orders.push_back(*held->second);
  }
}

constexpr const char* kReason = "recall ";

void stop_sale(trade::Order& order, const std::vector<std::string>& recalls, trade::FlagSaid said) {
  if (!trade::is_live(order.state) || order.flags.contains(kStopSale)) return;
  said.reason = kReason + listed(recalls);
  order.flags.insert(kStopSale);
  order.flags_said[kStopSale] = std::move(said);
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
  if (change.put.orders.empty() && change.record.empty()) return {};
  const auto state = shop_.state();
  if (!state) return std::unexpected(state.error());
  const RecallsNow before = recalls_now(**state);
  const RecallsNow after = recalls_now(**state, change.put);
  if (!is_any_open(before) && !is_any_open(after)) return {};
  add_written_bikes(**state, change);
  for (trade::Order& order : change.put.orders) {
    const auto lines = shop_.book_.bike_lines(order.id);
    if (!lines) return std::unexpected(lines.error());
    const auto held = (*state)->orders.find(order.id);
    const bool was =
        held != (*state)->orders.end() &&
        !recalls_on(**state, before, {.order = *held->second, .lines = *lines}).empty();
    const std::vector<std::string> now = recalls_on(
        **state, after, {.order = order, .lines = with_change(*lines, order.id, change)});
    if (!now.empty()) {
      stop_sale(order, now, {.who = change.who, .day = day_of(change.at)});
    } else if (was) {
      take_stop_off(order);
    }
  }
  return {};
}

}  // namespace rollwright::shop
