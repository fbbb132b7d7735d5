#pragma once

#include "http/api.hpp"

/// The addresses of the plan: looking, proposing, improving, agreeing, absences.
namespace rollwright::http {

[[nodiscard]] Response propose_plan(shop::Shop& shop, const Request& request);
[[nodiscard]] Response see_proposal(shop::Shop& shop, const Request& request);
[[nodiscard]] Response improve_proposal(shop::Shop& shop, const Request& request);
[[nodiscard]] Response stop_proposal(shop::Shop& shop, const Request& request);
[[nodiscard]] Response agree_proposal(shop::Shop& shop, const Request& request);
[[nodiscard]] Response leave_proposal(shop::Shop& shop, const Request& request);
[[nodiscard]] Response set_plan(shop::Shop& shop, const Request& request);
[[nodiscard]] Response tell_absence(shop::Shop& shop, const Request& request);
[[nodiscard]] Response calendar_of(shop::Shop& shop, const Request& request);

}  // namespace rollwright::http
