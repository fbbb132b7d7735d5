#pragma once

#include <string>

#include "base/clock.hpp"
#include "trade/order.hpp"
#include "trade/person.hpp"

namespace rollwright::trade {

/// Hands-on minutes that an operation took one person on one day. The order may be older than the
/// book.
struct TimeTaken {
  OrderId order;
  std::string operation;  // of the trade's operations
  PersonId person;
  Day day = {};
  int minutes = 0;        // 1 to 1440
};

}  // namespace rollwright::trade
