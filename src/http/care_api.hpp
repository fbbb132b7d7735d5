#pragma once

#include "http/api.hpp"

/// The addresses of bikes that come back.
namespace rollwright::http {

[[nodiscard]] Response coming_back(shop::Shop& shop, const Request& request);
[[nodiscard]] Response remind_rider(shop::Shop& shop, const Request& request);
[[nodiscard]] Response see_care(shop::Shop& shop, const Request& request);
[[nodiscard]] Response open_visit(shop::Shop& shop, const Request& request);
[[nodiscard]] Response ask_in_visit(shop::Shop& shop, const Request& request);
[[nodiscard]] Response give_bike_back(shop::Shop& shop, const Request& request);

}  // namespace rollwright::http
