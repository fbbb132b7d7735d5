#pragma once

#include <string_view>

#include "base/result.hpp"
#include "shop/care_views.hpp"

/// Bodies of requests about bikes that come back; errors as in requests.hpp.
namespace rollwright::json {

[[nodiscard]] Result<shop::VisitGiven> visit_from(std::string_view text);
[[nodiscard]] Result<shop::AskedGiven> asked_from(std::string_view text);
[[nodiscard]] Result<shop::BackGiven> back_from(std::string_view text);
[[nodiscard]] Result<shop::RemindedGiven> reminded_from(std::string_view text);

}  // namespace rollwright::json
