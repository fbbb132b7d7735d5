#pragma once

#include <string_view>

#include "http/api.hpp"

/// The addresses of photographs. A picture is the body as it is; what goes with it stands in the
/// query.
namespace rollwright::http {

[[nodiscard]] Response photos_of_bike(shop::Shop& shop, const Request& request);
[[nodiscard]] Response photograph_bike(shop::Shop& shop, const Request& request);
[[nodiscard]] Response photograph_goods(shop::Shop& shop, const Request& request);
[[nodiscard]] Response picture_of(shop::Shop& shop, const Request& request);
[[nodiscard]] Response small_picture_of(shop::Shop& shop, const Request& request);

/// Whether a change at this address is a picture.
[[nodiscard]] bool takes_picture(std::string_view target);
/// Whether an answer may have to make small copies: that takes a while.
[[nodiscard]] bool takes_pictures_apart(const Request& request);

}  // namespace rollwright::http
