#pragma once

#include "aids/does.hpp"
#include "shop/shop.hpp"

namespace rollwright::http {

/// What the bike of an order does, as bench aids filled from it say; without the odds of coming home,
/// which take half a second and are asked for by themselves (aid "home-again"). A figure for which a
/// fact of the bike is missing has no value and a question. What does not concern this bike is left
/// out. Errors: kNotFound for the order.
[[nodiscard]] Result<aids::Does> order_does(shop::Shop& shop, const std::string& order);

/// The same for the printed sheet.
[[nodiscard]] Result<std::string> order_sheet_pdf(shop::Shop& shop, const std::string& order);

}  // namespace rollwright::http
