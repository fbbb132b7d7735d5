#pragma once

#include <vector>

#include "shop/fit_views.hpp"
#include "shop/part_views.hpp"
#include "shop/state.hpp"
#include "spec/check.hpp"
#include "supply/needs.hpp"
#include "trade/trade.hpp"

namespace rollwright::shop {

[[nodiscard]] PartLine part_line(const trade::Part& part);
[[nodiscard]] FindingView finding_view(const spec::Finding& finding);

/// The specification of an order: every slot of its build, what is in it, what the rules say.
[[nodiscard]] SpecView spec_view(const trade::Trade& trade, const State& state,
                                 const trade::BuildTemplate& build, const trade::Order& order,
                                 const std::vector<supply::Cover>& covers);

}  // namespace rollwright::shop
