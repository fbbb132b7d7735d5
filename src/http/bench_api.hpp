#pragma once

#include "http/api.hpp"

/// The addresses of the stand: bikes that can be worked on, their records, what a part is on.
namespace rollwright::http {

[[nodiscard]] Response bench_list(shop::Shop& shop, const Request& request);
[[nodiscard]] Response bench_bike(shop::Shop& shop, const Request& request);
[[nodiscard]] Response write_record(shop::Shop& shop, const Request& request);
[[nodiscard]] Response history_of(shop::Shop& shop, const Request& request);
[[nodiscard]] Response history_pdf_of(shop::Shop& shop, const Request& request);
[[nodiscard]] Response owners_pack_of(shop::Shop& shop, const Request& request);
[[nodiscard]] Response trace_part(shop::Shop& shop, const Request& request);

}  // namespace rollwright::http
