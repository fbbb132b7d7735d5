#pragma once

#include "shop/bench_at.hpp"
#include "supply/needs.hpp"

namespace rollwright::shop {

[[nodiscard]] BenchView view_of_bike(const BenchDesk::At& at,
                                     const std::vector<supply::Cover>& covers);

}  // namespace rollwright::shop
