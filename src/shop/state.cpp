#include "shop/state.hpp"

#include <date/tz.h>
#include <fmt/format.h>

namespace rollwright::shop {

const trade::Part* State::part(const trade::PartId& id) const {
  const auto found = parts.find(id);
  return found == parts.end() ? nullptr : found->second;
}

std::shared_ptr<const State> make_state(trade::ShopFiles held, std::int64_t entry) {
  auto state = std::make_shared<State>();
  state->entry = entry;
  state->held = std::move(held);
  if (!state->held.settings.empty()) state->settings = state->held.settings.front();
  for (const trade::Part& part : state->held.parts) state->parts[part.id] = &part;
  for (const trade::Order& order : state->held.orders) state->orders[order.id] = &order;
  for (const trade::Stock& stock : state->held.stock) state->stock[stock.part] = &stock;
  for (const trade::Supplier& supplier : state->held.suppliers) {
    state->suppliers[supplier.id] = &supplier;
  }
  return state;
}

Result<LocalTime> local_time(const std::string& time_zone, Instant instant) {
  try {
    const auto local = date::locate_zone(time_zone)->to_local(instant);
    const auto day = std::chrono::floor<std::chrono::days>(local);
    const auto minute = std::chrono::floor<std::chrono::minutes>(local - day);
    return LocalTime{Day{day.time_since_epoch()}, static_cast<int>(minute.count())};
  } catch (const std::runtime_error&) {
    return refuse(Code::kBadInput,
                  "this time zone is not known here; write it as in Europe/Berlin",
                  {.field = "time_zone", .value = time_zone});
  }
}

std::string local_text(Day first, int minute) {
  const Day day = first + std::chrono::days(minute / 1440);
  return fmt::format("{}T{:02}:{:02}", iso(day), minute % 1440 / 60, minute % 60);
}

}  // namespace rollwright::shop
