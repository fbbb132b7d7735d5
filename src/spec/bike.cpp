#include "spec/bike.hpp"

namespace rollwright::spec {

const trade::Part* Bike::part_in(const trade::SlotId& slot) const {
  if (slot.text == "order") return &order;
  if (slot.text == "rider") return &rider;
  const auto found = parts.find(slot);
  return found == parts.end() ? nullptr : found->second;
}

}  // namespace rollwright::spec
