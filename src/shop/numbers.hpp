#pragma once

#include <vector>

#include "shop/order_views.hpp"
#include "shop/state.hpp"
#include "trade/trade.hpp"

namespace rollwright::shop {

/// What mech can say of this bike from the facts at hand: gears, belt, wheel, mass left for the
/// rider. A number whose facts are not all known is left out, never guessed.
[[nodiscard]] std::vector<NumberView> numbers_of(const trade::Trade& trade, const State& state,
                                                 const trade::Order& order);

}  // namespace rollwright::shop
