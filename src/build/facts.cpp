#include "build/facts.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "trade/pseudo.hpp"

namespace rollwright::build {
const trade::Part* part_at(const BikeFacts& bike, const trade::SlotId& slot) {
  if (slot.text == "order") return &bike.order;
  if (slot.text == "rider") return &bike.rider;
  const auto found = bike.parts.find(slot);
  return found == bike.parts.end() ? nullptr : found->second;
}

namespace {

std::string slot_name(const trade::Trade& trade, const std::string& slot) {
  if (slot == "order" || slot == "rider") return "the " + slot;
  const trade::Slot* found = trade::find_slot(trade, trade::SlotId(slot));
  return found == nullptr ? slot : found->name;
}

std::string attribute_name(const trade::Trade& trade, const std::string& attribute) {
  const auto found = trade.attributes.find(attribute);
  return found == trade.attributes.end() ? attribute : found->second.name;
}

}  // namespace

std::string not_known_sentence(const trade::Trade& trade, const BikeFacts& bike,
                               const trade::Operand& operand) {
  const std::string slot = slot_name(trade, operand.slot.text);
  const trade::Part* part = part_at(bike, operand.slot);
  if (part == nullptr) return fmt::format("{}: no part is chosen", slot);
  const std::string attribute = attribute_name(trade, operand.attribute);
  if (trade::is_pseudo(operand.slot)) return fmt::format("{}: {} is not known", slot, attribute);
  return fmt::format("{} ({}): {} is not known", slot, part->name, attribute);
}

const trade::Fact* FactReader::fact(const std::string& slot, const std::string& attribute) {
  const trade::Part* part = part_at(*bike_, trade::SlotId(slot));
  const trade::Fact* found = part == nullptr ? nullptr : trade::fact_of(*part, attribute);
  if (found == nullptr) {
    ask(not_known_sentence(*trade_, *bike_, {trade::SlotId(slot), attribute, 0.0}));
  }
  return found;
}

std::optional<double> FactReader::number(const std::string& slot, const std::string& attribute) {
  const trade::Fact* found = fact(slot, attribute);
  const double* number = found == nullptr ? nullptr : std::get_if<double>(&found->value);
  return number == nullptr ? std::nullopt : std::optional(*number);
}

std::optional<std::string> FactReader::word(const std::string& slot,
                                            const std::string& attribute) {
  const trade::Fact* found = fact(slot, attribute);
  const std::string* word = found == nullptr ? nullptr : std::get_if<std::string>(&found->value);
  return word == nullptr ? std::nullopt : std::optional(*word);
}

std::optional<bool> FactReader::flag(const std::string& slot, const std::string& attribute) {
  const trade::Fact* found = fact(slot, attribute);
  const bool* flag = found == nullptr ? nullptr : std::get_if<bool>(&found->value);
  return flag == nullptr ? std::nullopt : std::optional(*flag);
}

std::optional<double> FactReader::number_if_known(const std::string& slot,
                                                  const std::string& attribute) const {
  const trade::Part* part = part_at(*bike_, trade::SlotId(slot));
  return part == nullptr ? std::nullopt : trade::number_of(*part, attribute);
}

std::optional<std::string> FactReader::word_if_known(const std::string& slot,
                                                     const std::string& attribute) const {
  const trade::Part* part = part_at(*bike_, trade::SlotId(slot));
  return part == nullptr ? std::nullopt : trade::word_of(*part, attribute);
}

bool can_state(const trade::Trade& trade, const trade::Part& part, const std::string& attribute) {
  const auto kind = trade.kinds.find(part.kind);
  return kind == trade.kinds.end() || attribute == "mass" ||
         std::ranges::count(kind->second.attributes, attribute) > 0;
}

bool FactReader::can_state(const std::string& slot, const std::string& attribute) const {
  const trade::Part* part = part_at(*bike_, trade::SlotId(slot));
  return part != nullptr && build::can_state(*trade_, *part, attribute);
}

bool FactReader::filled(const std::string& slot) const {
  return part_at(*bike_, trade::SlotId(slot)) != nullptr;
}

std::string FactReader::named(const std::string& slot) const {
  const trade::Part* part = part_at(*bike_, trade::SlotId(slot));
  const std::string name = slot_name(*trade_, slot);
  return part == nullptr ? name : fmt::format("{} ({})", name, part->name);
}

void FactReader::ask(std::string question) {
  if (std::ranges::count(questions_, question) == 0) questions_.push_back(std::move(question));
}

}  // namespace rollwright::build
