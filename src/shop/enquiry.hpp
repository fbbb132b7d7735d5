#pragma once

#include <string>
#include <vector>

#include "base/result.hpp"
#include "shop/house_views.hpp"
#include "shop/order_views.hpp"
#include "shop/state.hpp"
#include "trade/order.hpp"

/// Enquiries, drafts and offers that somebody has to come back to.
namespace rollwright::shop {

/// Days after which an enquiry that nobody means to follow up is named, and after which it is better
/// archived. Common practice: kept for 30 to 90 days.
inline constexpr int kForgottenAfter = 30;
inline constexpr int kArchivedAfter = 90;

/// What Today says of them: follow-ups whose day has come, the oldest first; then enquiries without
/// such a day that are older than kForgottenAfter, the oldest first.
[[nodiscard]] std::vector<TodayLine> to_follow_up(const State& state, Day today);

/// "To be reached at runa@example.invalid.", or that no way is written down.
[[nodiscard]] std::string how_to_reach(const trade::Rider& rider);

/// None for no budget at all. Errors: kContradiction for an amount beside nothing said; kOutOfRange.
[[nodiscard]] Result<std::optional<trade::Budget>> budget_from(const BudgetGiven& given);
/// None without a day. Errors: kOutOfRange for a day that is over or more than a year away, and for
/// anything but one line of words; kBadInput without words.
[[nodiscard]] Result<std::optional<trade::FollowUp>> follow_up_from(const FollowUpGiven& given,
                                                                    Day today);

[[nodiscard]] std::optional<BudgetView> budget_view(const trade::Order& order,
                                                    std::int64_t price_cents);
[[nodiscard]] std::optional<FollowUpView> follow_up_view(const trade::Order& order, Day today);

}  // namespace rollwright::shop
