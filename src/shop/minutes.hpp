#pragma once

#include "plan/learned_minutes.hpp"
#include "shop/state.hpp"
#include "trade/operation.hpp"

/// How long the operations of the trade take in this shop.
namespace rollwright::shop {

/// From the operation's range and the newest times taken of it in the book (at most 200).
[[nodiscard]] plan::LearnedMinutes minutes_of(const State& state,
                                              const trade::Operation& operation);

}  // namespace rollwright::shop
