#include "trade/trade.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "trade/meant.hpp"

namespace rollwright::trade {

const Slot* find_slot(const Trade& trade, const SlotId& id) {
  const auto found = std::ranges::find(trade.slots, id, &Slot::id);
  return found == trade.slots.end() ? nullptr : &*found;
}

const Operation* find_operation(const Trade& trade, const std::string& id) {
  for (const std::vector<Operation>* list : {&trade.operations, &trade.care}) {
    const auto found = std::ranges::find(*list, id, &Operation::id);
    if (found != list->end()) return &*found;
  }
  return nullptr;
}

std::vector<std::string> operation_ids(const Trade& trade) {
  std::vector<std::string> ids;
  for (const std::vector<Operation>* list : {&trade.operations, &trade.care}) {
    for (const Operation& operation : *list) ids.push_back(operation.id);
  }
  return ids;
}

Result<const Attribute*> attribute_of(const Trade& trade, const PartKind& kind,
                                      const std::string& id) {
  const auto found = trade.attributes.find(id);
  if (std::ranges::count(kind.attributes, id) > 0 && found != trade.attributes.end()) {
    return &found->second;
  }
  return refuse(Code::kBadInput,
                fmt::format("a part of kind {} ({}) has no such attribute{}", kind.id.text,
                            kind.name, meant(id, kind.attributes)),
                {.field = "attribute", .value = id});
}

std::vector<KindId> kinds_for(const Trade& trade, const BuildTemplate& build, const SlotId& slot) {
  const bool has_slot =
      std::ranges::count(build.required, slot) > 0 || std::ranges::count(build.optional, slot) > 0;
  if (!has_slot) return {};
  const auto narrowed = build.kinds.find(slot);
  if (narrowed != build.kinds.end()) return narrowed->second;
  const Slot* found = find_slot(trade, slot);
  return found == nullptr ? std::vector<KindId>{} : found->kinds;
}

}  // namespace rollwright::trade
