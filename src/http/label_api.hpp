#pragma once

#include "http/api.hpp"

/// The addresses of labels. Lists in the query are parted by commas, as in orders=2041,2042.
namespace rollwright::http {

[[nodiscard]] Response labels(shop::Shop& shop, const Request& request);
[[nodiscard]] Response labels_pdf(shop::Shop& shop, const Request& request);
[[nodiscard]] Response labels_svg(shop::Shop& shop, const Request& request);

}  // namespace rollwright::http
