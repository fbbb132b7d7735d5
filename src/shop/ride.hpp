#pragma once

#include <optional>
#include <string>

#include "trade/order_facts.hpp"

namespace rollwright::shop {

/// What a route's file asks of a bike: of the first track or planned way in it, the whole ride from
/// home to home. A way that ends within a kilometre of where it begins is ridden once; any other is
/// ridden there and back, so that what goes down comes up again.
///
/// Empty when the file cannot be read, or gives no height for some point: then the ride is not
/// known.
[[nodiscard]] std::optional<trade::RideFacts> ride_of(const std::string& gpx,
                                                      const std::string& name);

}  // namespace rollwright::shop
