#pragma once

#include <string_view>

#include "base/result.hpp"
#include "shop/bench_views.hpp"

/// Bodies of requests from the stand; errors as in requests.hpp.
namespace rollwright::json {

/// Who did what; each deed needs its word, all else may be left out.
[[nodiscard]] Result<shop::DeedsGiven> deeds_from(std::string_view text);

}  // namespace rollwright::json
