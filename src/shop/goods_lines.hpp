#pragma once

#include "shop/goods_views.hpp"
#include "shop/state.hpp"
#include "supply/lead_time.hpp"
#include "supply/needs.hpp"
#include "trade/trade.hpp"

namespace rollwright::shop {

/// What the lines of a purchase are looked at with.
struct LinesAt {
  const trade::Trade& trade;
  const State& state;
  const supply::LeadTimes& lead_times;
  const std::vector<supply::Cover>& covers;
  Day today = {};
};

/// One line as it comes in: its odds, who waits for it, where it is, what was claimed.
[[nodiscard]] ArrivalLine arrival_line(const LinesAt& at, const trade::PurchaseLine& line);

/// All lines on which something is to come, to look at, in quarantine or claimed.
///
/// Method:   a line is expected on the day confirmed; once a leg of its road is done, or while nobody
///           has confirmed a day, on the day by which it is here in 50 of 100. It is overdue when the
///           day confirmed is over, or without one when nine in ten such lines would have come.
[[nodiscard]] ArrivalsView arrivals_view(const LinesAt& at);

}  // namespace rollwright::shop
