#pragma once

#include <string_view>
#include <vector>

#include "build/life_needs.hpp"
#include "build/order_life.hpp"

namespace rollwright::build {

/// On which bikes a move is there at all.
enum class LifeRoad { kAny, kShopBuilt, kMakerBuilt, kFetched, kByFreight };
[[nodiscard]] bool is_on(LifeRoad road, const LifeFacts& facts);

/// One row of the table of moves.
struct LifeMove {
  trade::OrderState from;
  trade::OrderState to;
  LifeRoad road = LifeRoad::kAny;
  std::vector<Hat> moved_by;
  std::vector<LifeNeed> needs;
  std::vector<std::string_view> says;  // keys of `statements`
  bool is_back = false;
  std::vector<std::string_view> may_say = {};  // what meets a need otherwise, or can be left out
};
/// Cancelling is one row for each state before Handed over.
[[nodiscard]] const std::vector<LifeMove>& life_moves();

/// A flag and the states into which an order that carries it may not go. Work that is done again
/// (a move back) is only stopped by Held: it may be what clears the others.
struct LifeFlag {
  std::string_view word;
  std::vector<trade::OrderState> stops;
  std::string_view because;
};
[[nodiscard]] const std::vector<LifeFlag>& life_flags();

}  // namespace rollwright::build
