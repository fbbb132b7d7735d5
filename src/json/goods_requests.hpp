#pragma once

#include <string>
#include <string_view>

#include "base/clock.hpp"
#include "base/result.hpp"
#include "shop/goods_views.hpp"
#include "shop/purchase_views.hpp"

/// Bodies of requests at goods-in; errors as in requests.hpp.
namespace rollwright::json {

/// What came of a purchase line; only the quantity must be there, or what is missing.
[[nodiscard]] Result<shop::Received> received_from(std::string_view text);
[[nodiscard]] Result<shop::GoodsStepGiven> goods_step_from(std::string_view text);
/// `counted`, `right` and `why` must be there.
[[nodiscard]] Result<shop::MiscountGiven> miscount_from(std::string_view text);
[[nodiscard]] Result<shop::ClaimStep> claim_step_from(std::string_view text);
[[nodiscard]] Result<shop::LegGiven> leg_from(std::string_view text);
[[nodiscard]] Result<std::string> mode_from(std::string_view text);
[[nodiscard]] Result<Day> confirmed_from(std::string_view text);
/// An order that was placed: supplier and lines must be there.
[[nodiscard]] Result<shop::PurchaseGiven> purchase_from(std::string_view text);
/// Why a line is given up; may be left out.
[[nodiscard]] Result<std::string> note_from(std::string_view text);
[[nodiscard]] Result<shop::UseGiven> use_from(std::string_view text);

}  // namespace rollwright::json
