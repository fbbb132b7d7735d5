#pragma once

#include "trade/order.hpp"
#include "trade/part.hpp"

namespace rollwright::trade {

/// The order as a part of kind K-ORDER, so that rules can ask it: `region`, `assist_class`,
/// `front_brake_lever` (words), `use_class` (number), `luggage` and `load` (kg; load is the rider's
/// mass plus luggage), `child_seat`, `by_freight` (flags). What the order leaves out is not known.
[[nodiscard]] Part order_facts(const Order& order);

/// The rider as a part of kind K-RIDER: `rider_mass` (kg), `rider_height`, `rider_inseam` (mm).
[[nodiscard]] Part rider_facts(const Order& order);

}  // namespace rollwright::trade
