#pragma once

#include <string>
#include <vector>

#include "shop/reckoned.hpp"
#include "shop/views.hpp"
#include "spec/repair.hpp"

namespace rollwright::shop {

[[nodiscard]] std::vector<RepairView> repair_views(const trade::Trade& trade, const State& state,
                                                   const std::vector<spec::Repair>& repairs);

/// `aim` is what it is best in, or "between".
[[nodiscard]] CompletionView completion_view(const trade::Trade& trade, const Reckoned& reckoned,
                                             const spec::Completion& bike, const std::string& aim);

}  // namespace rollwright::shop
