#pragma once

#include <map>
#include <memory>

#include "base/clock.hpp"
#include "trade/shop_files.hpp"

namespace rollwright::shop {

/// Everything the book held at one moment, with indices. Immutable: use cases look at one state
/// from beginning to end, whatever others write meanwhile.
struct State {
  std::int64_t entry = 0;  // of the journal, when it was read
  trade::ShopFiles held;
  trade::ShopSettings settings;
  std::map<trade::PartId, const trade::Part*> parts;
  std::map<trade::OrderId, const trade::Order*> orders;
  std::map<trade::PartId, const trade::Stock*> stock;
  std::map<trade::SupplierId, const trade::Supplier*> suppliers;

  State() = default;
  State(const State&) = delete;  // the indices point into `held`
  State& operator=(const State&) = delete;

  [[nodiscard]] const trade::Part* part(const trade::PartId& id) const;
};

[[nodiscard]] std::shared_ptr<const State> make_state(trade::ShopFiles held, std::int64_t entry);

/// Wall clock of the shop's time zone: the day, and the minute of it.
struct LocalTime {
  Day day = {};
  int minute = 0;
};
/// Errors: kBadInput for a time zone that the system does not know.
[[nodiscard]] Result<LocalTime> local_time(const std::string& time_zone, Instant instant);

/// "2026-11-25T08:30" for a minute counted from 00:00 of the day.
[[nodiscard]] std::string local_text(Day first, int minute);

}  // namespace rollwright::shop
