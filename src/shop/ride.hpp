#pragma once

#include <optional>
#include <string>

#include "mech/route.hpp"
#include "trade/order_facts.hpp"

namespace rollwright::shop {

/// A route of the book, read once.
struct RouteLooked {
  mech::RouteFigures once;               // the first track or planned way in the file, one way
  bool ends_at_home = false;             // within a kilometre of where it begins
  std::optional<trade::RideFacts> ride;  // what it asks of a bike; empty without heights
};

/// Empty when the file cannot be read.
[[nodiscard]] std::optional<RouteLooked> look_at_route(const std::string& gpx,
                                                       const std::string& name);

/// What a route's file asks of a bike: of the first track or planned way in it, the whole ride from
/// home to home. A way that ends within a kilometre of where it begins is ridden once; any other is
/// ridden there and back, so that what goes down comes up again.
///
/// Empty when the file cannot be read, or gives no height for some point: then the ride is not
/// known.
[[nodiscard]] std::optional<trade::RideFacts> ride_of(const std::string& gpx,
                                                      const std::string& name);

}  // namespace rollwright::shop
