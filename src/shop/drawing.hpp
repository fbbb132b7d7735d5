#pragma once

#include "shop/fit_views.hpp"
#include "shop/order_views.hpp"
#include "shop/state.hpp"

namespace rollwright::shop {

/// The bike in side elevation from the facts of its frame, fork, wheels, stem, bar and saddle, and
/// the rider's inseam. `clash` names the points where findings of the specification clash.
[[nodiscard]] OutlineView outline_view(const State& state, const trade::Order& order,
                                       const SpecView& spec);

}  // namespace rollwright::shop
