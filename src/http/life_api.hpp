#pragma once

#include "http/api.hpp"

/// The addresses of an order's life: what is next, moving it on, flags, signing, changes, settlement.
namespace rollwright::http {

[[nodiscard]] Response see_life(shop::Shop& shop, const Request& request);
[[nodiscard]] Response move_to(shop::Shop& shop, const Request& request);
[[nodiscard]] Response set_flag(shop::Shop& shop, const Request& request);
[[nodiscard]] Response sign_spec(shop::Shop& shop, const Request& request);
[[nodiscard]] Response price_of_change(shop::Shop& shop, const Request& request);
[[nodiscard]] Response change_spec(shop::Shop& shop, const Request& request);
[[nodiscard]] Response settlement_of(shop::Shop& shop, const Request& request);

}  // namespace rollwright::http
