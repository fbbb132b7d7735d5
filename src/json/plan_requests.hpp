#pragma once

#include <cstdint>
#include <string_view>

#include "base/result.hpp"
#include "shop/plan_desk.hpp"

/// Bodies of requests about the plan; errors as in requests.hpp.
namespace rollwright::json {

/// Without an order the whole plan is asked for anew; `over` is the number of the plan looked at.
struct ProposeRequest {
  shop::ProposalWish wish;
  std::int64_t over = 0;
};
[[nodiscard]] Result<ProposeRequest> propose_from(std::string_view text);
[[nodiscard]] Result<double> seconds_from(std::string_view text);
[[nodiscard]] Result<shop::PlanSettingsView> plan_settings_from(std::string_view text);
/// `to` is `from` when it is left out.
[[nodiscard]] Result<shop::DaysAway> days_away_from(std::string_view text);
/// An object without fields.
[[nodiscard]] Result<void> nothing_from(std::string_view text);

}  // namespace rollwright::json
