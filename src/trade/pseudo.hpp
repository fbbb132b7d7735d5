#pragma once

#include "trade/part.hpp"

namespace rollwright::trade {

/// The order and the rider are asked like slots, and their facts are listed like those of kinds,
/// but no part can be of these kinds and no part fills these slots.
[[nodiscard]] inline KindId order_kind() { return KindId("K-ORDER"); }
[[nodiscard]] inline KindId rider_kind() { return KindId("K-RIDER"); }
[[nodiscard]] inline bool is_pseudo(const KindId& kind) {
  return kind == order_kind() || kind == rider_kind();
}
[[nodiscard]] inline bool is_pseudo(const SlotId& slot) {
  return slot.text == "order" || slot.text == "rider";
}

}  // namespace rollwright::trade
