#pragma once

#include "http/api.hpp"

/// The addresses of recalls.
namespace rollwright::http {

[[nodiscard]] Response recall_list(shop::Shop& shop, const Request& request);
[[nodiscard]] Response open_recall(shop::Shop& shop, const Request& request);
[[nodiscard]] Response recall_of(shop::Shop& shop, const Request& request);
[[nodiscard]] Response tell_recall(shop::Shop& shop, const Request& request);
[[nodiscard]] Response close_recall(shop::Shop& shop, const Request& request);
[[nodiscard]] Response recall_pdf(shop::Shop& shop, const Request& request);
[[nodiscard]] Response recall_csv(shop::Shop& shop, const Request& request);

}  // namespace rollwright::http
