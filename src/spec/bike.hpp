#pragma once

#include <map>

#include "trade/part.hpp"

namespace rollwright::spec {

/// What is chosen, slot by slot. A slot that is absent is undecided; an empty part id says that the
/// slot is meant to stay empty.
using Selection = std::map<trade::SlotId, trade::PartId>;

/// What the rules look at: the part in each filled slot, and the facts of the order and the rider.
/// The parts belong to someone else and must outlive the bike.
struct Bike {
  std::map<trade::SlotId, const trade::Part*> parts;  // filled slots only, never null
  trade::Part order;  // trade::order_facts(order)
  trade::Part rider;  // trade::rider_facts(order)

  /// The part in the slot, the pseudo parts for `order` and `rider`, or nothing.
  [[nodiscard]] const trade::Part* part_in(const trade::SlotId& slot) const;
};

}  // namespace rollwright::spec
