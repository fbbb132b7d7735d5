#pragma once

#include <memory>
#include <vector>

#include "build/bench_rules.hpp"
#include "shop/bench_desk.hpp"
#include "shop/state.hpp"
#include "trade/trade.hpp"

namespace rollwright::shop {

/// One bike at the stand, with all it is judged by.
struct BenchDesk::At {
  std::shared_ptr<const State> state;
  const trade::Order* order = nullptr;
  LocalTime now;
  Instant moment = {};
  std::shared_ptr<const BenchRecord> record;
  const trade::Sheet& sheet = *record->sheet;
  const build::BenchState& bench = record->now;
  std::string blocked;
};

/// Why nobody may work on an order's bike: it is on hold, or a part of it may not be sold. Empty when
/// they may.
[[nodiscard]] std::string blocked_because(const trade::Order& order);

[[nodiscard]] ToolView tool_view(const trade::Tool& tool, Day today);

/// One line of a record as a sentence: "read stem to steerer bolts: 5.2 N·m, inside 4 to 6 N·m".
[[nodiscard]] std::string sentence_of(const trade::BikeLine& line, const trade::Trade& trade,
                                      const State& state);

}  // namespace rollwright::shop
