#pragma once

#include <optional>

#include "trade/order.hpp"
#include "trade/part.hpp"

namespace rollwright::trade {

/// What the order's route comes to. mech/route.hpp works it out of the route's file; the order
/// itself knows only the route's name.
struct RideFacts {
  Length length;        // the whole way, there and back
  Length climb;         // all rises added up
  double steepest = 0;  // rise over run, 0.08 is 8 %
};

/// The order as a part of kind K-ORDER, so that rules can ask it: `region`, `assist_class`,
/// `front_brake_lever` (words), `use_class` (number), `luggage` and `load` (kg; load is the rider's
/// mass plus luggage), `child_seat`, `by_freight`, `ride_given` (flags), and of the ride, when it is
/// known, `ride_length`, `ride_climb` (mm) and `ride_steepest` (%). What the order leaves out is not
/// known.
[[nodiscard]] Part order_facts(const Order& order, const std::optional<RideFacts>& ride = {});

/// The rider as a part of kind K-RIDER: `rider_mass` (kg), `rider_height`, `rider_inseam` (mm).
[[nodiscard]] Part rider_facts(const Order& order);

}  // namespace rollwright::trade
