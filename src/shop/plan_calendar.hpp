#pragma once

#include "documents/calendar_feed.hpp"
#include "shop/state.hpp"
#include "trade/trade.hpp"

namespace rollwright::shop {

/// What the agreed plan has for one person and is not done, as appointments: one for each day of an
/// operation, from its first to its last minute at work on it. It names the order's number, the
/// operation and the stand; nothing of the rider. It says what was agreed, when it was agreed: the
/// same plan, orders and hours give the same feed whenever it is asked for, and the plan's number is
/// its sequence.
///
/// Errors: kNotFound for a person; kRefused while no plan is agreed.
[[nodiscard]] Result<documents::CalendarFeed> calendar_of(const trade::Trade& trade,
                                                          const State& state,
                                                          const std::string& person);

}  // namespace rollwright::shop
