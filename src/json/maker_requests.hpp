#pragma once

#include <string_view>

#include "base/result.hpp"
#include "shop/maker_views.hpp"

/// Bodies of requests about bikes that a maker builds; errors as in requests.hpp.
namespace rollwright::json {

[[nodiscard]] Result<shop::MakerFormGiven> maker_form_from(std::string_view text);
/// Either `csv` with the name of its `file`, or `lines`.
[[nodiscard]] Result<shop::MakerListGiven> maker_list_from(std::string_view text);
[[nodiscard]] Result<shop::DifferenceGiven> difference_from(std::string_view text);

}  // namespace rollwright::json
