#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "trade/meant.hpp"
#include "trade/trade_loading.hpp"

namespace rollwright::trade {
namespace {

constexpr AttributeType kTypes[] = {AttributeType::kFlag, AttributeType::kNumber,
                                    AttributeType::kWord, AttributeType::kWords};

std::optional<AttributeType> read_type(TableReader& reader) {
  const std::string word = reader.text("type");
  std::vector<std::string> words;
  for (const AttributeType type : kTypes) {
    if (word_of(type) == word) return type;
    words.emplace_back(word_of(type));
  }
  if (!word.empty()) {
    reader.problem("type", Code::kBadInput, "this is no type of attribute" + meant(word, words),
                   word);
  }
  return std::nullopt;
}

bool read_unit(TableReader& reader, Attribute& attribute) {
  attribute.unit = reader.text_or("unit", "");
  if (attribute.unit.empty()) return true;
  if (attribute.type != AttributeType::kNumber) {
    reader.problem("unit", Code::kContradiction, "only numbers have a unit; leave it out",
                   attribute.unit);
    return false;
  }
  const UnitRow* unit = find_unit(attribute.unit);
  if (unit == nullptr) {
    std::vector<std::string> symbols;
    for (const UnitRow& row : unit_table()) symbols.emplace_back(row.symbol);
    reader.problem("unit", Code::kBadInput,
                   "this unit is not known" + meant(attribute.unit, symbols), attribute.unit);
    return false;
  }
  attribute.dimension = unit->dimension;
  return true;
}

bool read_choices(TableReader& reader, Attribute& attribute) {
  attribute.choices = reader.texts("choices");
  if (attribute.choices.empty()) return true;
  const bool takes_words =
      attribute.type == AttributeType::kWord || attribute.type == AttributeType::kWords;
  if (!takes_words) {
    reader.problem("choices", Code::kContradiction,
                   "only attributes of type word or words have choices; leave them out");
    return false;
  }
  std::set<std::string> seen;
  bool good = true;
  for (const std::string& choice : attribute.choices) {
    if (choice.find('|') != std::string::npos || choice == "?" || choice == "*") {
      reader.problem("choices", Code::kBadInput,
                     "a word may not hold |, and may not be ? or *, which mean something in files",
                     choice);
      good = false;
    } else if (!seen.insert(choice).second) {
      reader.problem("choices", Code::kBadInput, "this word is there twice; say it once", choice);
    }
  }
  return good;
}

}  // namespace

void load_attributes(TradeLoading& loading) {
  OnlyOnce once("attribute");
  loading.toml_file("attributes.toml", "attribute", [&](TableReader& reader) {
    Attribute attribute{.id = reader.text("id"), .name = reader.text("name")};
    const std::optional<AttributeType> type = read_type(reader);
    attribute.type = type.value_or(AttributeType::kWord);
    const bool good_unit = read_unit(reader, attribute);
    const bool good_choices = read_choices(reader, attribute);
    attribute.help = reader.text_or("help", "");
    reader.finish();
    if (attribute.id.find_first_of(".|*{}, ") != std::string::npos) {
      reader.problem("id", Code::kBadInput, "an id may not hold . | * { } , or a space",
                     attribute.id);
    }
    if (attribute.id == "mass" && attribute.dimension != Dimension::kMass) {
      reader.problem("unit", Code::kContradiction, "the mass of a part is a number of kg",
                     attribute.unit);
    }
    if (!type || !good_unit || !good_choices) loading.doubtful.insert(attribute.id);
    if (once.is_new(reader, attribute.id)) {
      loading.trade.attributes.emplace(attribute.id, std::move(attribute));
    }
  });
  if (!loading.is_read("attributes.toml")) return;
  // Every kind has a mass, so the file need not say so.
  loading.trade.attributes.try_emplace("mass", Attribute{.id = "mass",
                                                         .name = "mass",
                                                         .type = AttributeType::kNumber,
                                                         .dimension = Dimension::kMass,
                                                         .unit = "kg",
                                                         .choices = {},
                                                         .help = "Put it on the scales."});
}

}  // namespace rollwright::trade
