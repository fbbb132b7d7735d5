#pragma once

#include <string_view>

#include "base/result.hpp"
#include "shop/recall_views.hpp"

/// Bodies of requests about recalls; errors as in requests.hpp.
namespace rollwright::json {

/// Who writes it down and what is wrong are needed; all else may be left out.
[[nodiscard]] Result<shop::RecallGiven> recall_from(std::string_view text);
[[nodiscard]] Result<shop::ToldGiven> told_from(std::string_view text);
[[nodiscard]] Result<shop::RecallClosing> recall_closing_from(std::string_view text);

}  // namespace rollwright::json
