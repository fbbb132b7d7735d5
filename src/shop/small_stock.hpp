#pragma once

#include "shop/state.hpp"
#include "supply/stock_list.hpp"

namespace rollwright::shop {

/// What the small stock of a state is reckoned from. Everything given outlives the question.
[[nodiscard]] supply::StockQuestion stock_question(const State& state,
                                                   const std::vector<supply::Cover>& covers,
                                                   const supply::LeadTimes& lead_times, Day today);

/// Takings of a part, day and purpose are one; what was taken on that day already counts with it.
[[nodiscard]] trade::Used used_with(const State& state, const trade::Used& taken);

}  // namespace rollwright::shop
