#pragma once

#include <string>

#include "trade/order.hpp"

namespace rollwright::shop {

/// Why no day can be promised for an order, in a sentence; empty when one can be asked for.
[[nodiscard]] std::string no_promise_because(const trade::Order& order);

/// That its bench work is done, so that there are no odds to draw.
[[nodiscard]] std::string no_work_left(const trade::Order& order);

}  // namespace rollwright::shop
