#pragma once

#include <optional>
#include <utility>
#include <vector>

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
  /// By which the bike would be ready in 50 of 100, and in 90, by the simulation alone.
  Day day_50 = {};
  Day day_90 = {};
  std::optional<Day> ready;  // none: not ready yet
  /// The whole of it: days, and the odds in 1000 of being ready by then, both rising. None for
  /// promises that came with the first import.
  std::vector<std::pair<Day, int>> odds;
};

}  // namespace rollwright::trade
