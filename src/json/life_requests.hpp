#pragma once

#include <string_view>

#include "base/result.hpp"
#include "shop/life_views.hpp"

/// Bodies of requests about an order's life; errors as in requests.hpp.
namespace rollwright::json {

[[nodiscard]] Result<shop::MoveGiven> move_from(std::string_view text);
[[nodiscard]] Result<shop::FlagChange> flag_from(std::string_view text);
[[nodiscard]] Result<shop::SignGiven> sign_from(std::string_view text);
[[nodiscard]] Result<shop::ChangeGiven> change_from(std::string_view text);
/// Choices by slot, to be priced; none: what is changed and not signed.
[[nodiscard]] Result<std::map<std::string, std::optional<std::string>>> choices_from(
    std::string_view text);

}  // namespace rollwright::json
