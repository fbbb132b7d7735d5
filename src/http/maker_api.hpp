#pragma once

#include "http/api.hpp"

/// The addresses of bikes that a maker builds.
namespace rollwright::http {

[[nodiscard]] Response see_maker(shop::Shop& shop, const Request& request);
[[nodiscard]] Response send_maker_form(shop::Shop& shop, const Request& request);
[[nodiscard]] Response take_maker_list(shop::Shop& shop, const Request& request);
[[nodiscard]] Response answer_difference(shop::Shop& shop, const Request& request);
/// On the paper that the query names: a4 (unless it says otherwise) or letter.
[[nodiscard]] Response maker_form_pdf_of(shop::Shop& shop, const Request& request);
[[nodiscard]] Response maker_form_csv_of(shop::Shop& shop, const Request& request);

}  // namespace rollwright::http
