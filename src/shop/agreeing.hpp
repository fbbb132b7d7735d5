#pragma once

#include <optional>

#include "shop/state.hpp"
#include "trade/promise_said.hpp"
#include "trade/trade.hpp"

namespace rollwright::shop {

/// What the odds of a day are when an order is agreed with it, to be held against what comes of it.
/// None where the simulation gives no day. `order` is not agreed yet.
[[nodiscard]] std::optional<trade::PromiseSaid> odds_of_agreeing(const trade::Trade& trade,
                                                                 const State& state,
                                                                 const trade::OrderId& order,
                                                                 const LocalTime& now,
                                                                 Day promised);

}  // namespace rollwright::shop
