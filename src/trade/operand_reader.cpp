#include "trade/operand_reader.hpp"

#include <algorithm>
#include <cctype>

#include <fmt/format.h>

#include "base/text.hpp"
#include "trade/meant.hpp"
#include "trade/pseudo.hpp"

namespace rollwright::trade {
namespace {

constexpr std::string_view kFilled = "*filled";

Place with_value(Place place, std::string value) {
  place.value = std::move(value);
  return place;
}

std::optional<ReadOperand> read_literal(TradeLoading& loading, const std::string& text,
                                        const Place& place) {
  ReadOperand read;
  if (text == "true" || text == "yes" || text == "false" || text == "no") {
    read.type = AttributeType::kFlag;
    read.operand.literal = text == "true" || text == "yes";
    return read;
  }
  if (const auto number = to_number(text)) {
    read.bare = true;
    read.operand.literal = *number;
    return read;
  }
  const std::size_t last = text.find_last_of("0123456789");
  const std::string_view symbol = last == std::string::npos
                                      ? std::string_view{}
                                      : trim(std::string_view(text).substr(last + 1));
  const UnitRow* unit = find_unit(symbol);
  if (unit != nullptr) {
    if (const Result<double> amount = parse_amount(text, unit->dimension)) {
      read.dimension = unit->dimension;
      read.operand.literal = *amount;
      return read;
    }
  }
  loading.problem(Code::kBadInput,
                  "this is neither a fact (\"slot.attribute\") nor an amount (\"6 mm\", 36, true)",
                  with_value(place, text));
  return std::nullopt;
}

/// Kinds of part that can answer for the slot; nothing (and a problem) when there is no such slot.
std::optional<std::vector<KindId>> kinds_asked(TradeLoading& loading, const std::string& slot,
                                               const Place& place) {
  if (slot == "order") return std::vector{order_kind()};
  if (slot == "rider") return std::vector{rider_kind()};
  if (const Slot* found = find_slot(loading.trade, SlotId(slot))) return found->kinds;
  if (loading.is_read("slots.toml")) {
    std::vector<std::string> known = {"order", "rider"};
    for (const Slot& each : loading.trade.slots) known.push_back(each.id.text);
    loading.problem(Code::kBadInput,
                    fmt::format("no slot is called {}{}", slot, meant(slot, known)), place);
  }
  return std::nullopt;
}

/// False, with a problem, when none of the kinds has the attribute.
bool some_kind_has(TradeLoading& loading, const std::vector<KindId>& kinds, const Operand& operand,
                   const Place& place) {
  std::vector<std::string> has;
  for (const KindId& id : kinds) {
    const auto kind = loading.trade.kinds.find(id);
    if (kind == loading.trade.kinds.end()) return true;  // told where the slot or kind stands
    for (const std::string& attribute : kind->second.attributes) {
      if (attribute == operand.attribute) return true;
      if (std::ranges::count(has, attribute) == 0) has.push_back(attribute);
    }
  }
  loading.problem(Code::kBadInput,
                  fmt::format("no kind of part for {} has {}{}", operand.slot.text,
                              operand.attribute, meant(operand.attribute, has)),
                  place);
  return false;
}

void take_attribute(const TradeLoading& loading, const std::string& id, ReadOperand& read) {
  const auto found = loading.trade.attributes.find(id);
  read.certain = found != loading.trade.attributes.end() && !loading.doubtful.contains(id);
  if (found == loading.trade.attributes.end()) return;
  read.type = found->second.type;
  read.dimension = found->second.dimension;
  read.unit = found->second.unit;
  read.choices = found->second.choices;
}

}  // namespace

std::string ReadOperand::meaning() const {
  if (filled) return "whether the slot is filled";
  switch (type) {
    case AttributeType::kFlag: return "yes or no";
    case AttributeType::kWord: return "word";
    case AttributeType::kWords: return "set of words";
    case AttributeType::kNumber: return std::string(word_of(dimension));
  }
  broken_promise("every attribute type has a meaning", __FILE__, __LINE__);
}

bool is_reference(std::string_view text) {
  const std::size_t dot = text.find('.');
  if (dot == std::string_view::npos || dot == 0 || dot + 1 == text.size()) return false;
  const auto starts_name = [](char c) {
    return std::isalpha(static_cast<unsigned char>(c)) != 0 || c == '*' || c == '_';
  };
  return starts_name(text.front()) && text.find(' ') == std::string_view::npos;
}

std::optional<ReadOperand> read_operand(TradeLoading& loading, const std::string& text,
                                        const Place& place) {
  if (!is_reference(text)) return read_literal(loading, text, place);
  const Place here = with_value(place, text);
  const std::size_t dot = text.find('.');
  ReadOperand read;
  read.operand = {.slot = SlotId(text.substr(0, dot)), .attribute = text.substr(dot + 1)};
  if (read.operand.slot.text == "*") {
    if (read.operand.attribute != "mass") {
      loading.problem(Code::kBadInput, "of all slots together only \"*.mass\" can be asked", here);
      return std::nullopt;
    }
    take_attribute(loading, "mass", read);
    return read;
  }
  const auto kinds = kinds_asked(loading, read.operand.slot.text, here);
  if (!kinds) return std::nullopt;
  if (read.operand.attribute == kFilled) {
    read.filled = true;
    if (!is_pseudo(read.operand.slot)) return read;
    loading.problem(Code::kBadInput,
                    "the order and the rider are always there; ask one of their facts", here);
    return std::nullopt;
  }
  if (read.operand.attribute.starts_with('*')) {
    loading.problem(Code::kBadInput, "the only question with a star is *filled", here);
    return std::nullopt;
  }
  const auto& attributes = loading.trade.attributes;
  if (loading.is_read("attributes.toml") && !attributes.contains(read.operand.attribute)) {
    loading.problem(Code::kBadInput,
                    fmt::format("no attribute is called {}{}", read.operand.attribute,
                                meant(read.operand.attribute, names_in(attributes))),
                    here);
    return std::nullopt;
  }
  if (loading.is_read("kinds.toml") && !some_kind_has(loading, *kinds, read.operand, here)) {
    return std::nullopt;
  }
  take_attribute(loading, read.operand.attribute, read);
  return read;
}

}  // namespace rollwright::trade
