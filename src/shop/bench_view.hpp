#pragma once

#include "shop/bench_at.hpp"

namespace rollwright::shop {

[[nodiscard]] BenchView view_of_bike(const trade::Trade& trade, const BenchDesk::At& at);

}  // namespace rollwright::shop
