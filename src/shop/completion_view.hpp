#pragma once

#include <string>
#include <vector>

#include "shop/fit_views.hpp"
#include "shop/reckoned.hpp"
#include "spec/repair.hpp"

namespace rollwright::shop {

[[nodiscard]] std::vector<RepairView> repair_views(const trade::Trade& trade, const State& state,
                                                   const std::vector<spec::Repair>& repairs);

/// Without what the bike is best in.
[[nodiscard]] CompletionView completion_view(const trade::Trade& trade, const Reckoned& reckoned,
                                             const trade::Order& order,
                                             const spec::Completion& bike);

}  // namespace rollwright::shop
