#pragma once

#include <optional>

#include "base/clock.hpp"
#include "trade/order.hpp"

namespace rollwright::trade {

/// A day that the shop promised, with the odds it reckoned with on the day it said so, and how it
/// went. The order may be older than the book.
struct PromiseSaid {
  OrderId order;
  Day said = {};
  Day promised = {};
  int in_100 = 0;  // chance of keeping it, as reckoned when it was said: 0 to 100
  Day day_50 = {};  // by which the bike would be ready in 50 of 100, and in 90
  Day day_90 = {};
  std::optional<Day> ready;  // none: not ready yet
};

}  // namespace rollwright::trade
