#include "trade/fact.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/text.hpp"
#include "trade/meant.hpp"

namespace rollwright::trade {
namespace {

Result<Value> parse_flag(std::string_view text) {
  if (text == "yes" || text == "true") return Value{true};
  if (text == "no" || text == "false") return Value{false};
  return refuse(Code::kBadInput, "this is answered with yes or no", {.value = std::string(text)});
}

Result<std::string> parse_word(const Attribute& attribute, std::string_view text) {
  const std::string word(trim(text));
  if (word.empty()) {
    return refuse(Code::kBadInput, "an empty word says nothing; leave the fact out instead",
                  {.value = word});
  }
  if (attribute.choices.empty() || std::ranges::count(attribute.choices, word) > 0) return word;
  return refuse(Code::kOutOfRange,
                fmt::format("this is none of the words for {}{}", attribute.id,
                            meant(word, attribute.choices)),
                {.value = word});
}

Result<Value> parse_words(const Attribute& attribute, std::string_view text) {
  std::vector<std::string> words;
  for (const std::string& piece : split(text, '|')) {
    Result<std::string> word = parse_word(attribute, piece);
    if (!word) return std::unexpected(word.error());
    if (std::ranges::count(words, *word) > 0) {
      return refuse(Code::kBadInput, "this word is there twice; say it once", {.value = *word});
    }
    words.push_back(std::move(*word));
  }
  return Value{std::move(words)};
}

}  // namespace

std::string_view word_of(Standing standing) {
  switch (standing) {
    case Standing::kKnown: return "known";
    case Standing::kMeasured: return "measured";
    case Standing::kNotKnown: return "not known";
  }
  broken_promise("every standing has a word", __FILE__, __LINE__);
}

std::string_view word_of(AttributeType type) {
  switch (type) {
    case AttributeType::kFlag: return "flag";
    case AttributeType::kNumber: return "number";
    case AttributeType::kWord: return "word";
    case AttributeType::kWords: return "words";
  }
  broken_promise("every type of attribute has a word", __FILE__, __LINE__);
}

std::string shown(const Attribute& attribute, const Value& value) {
  if (const bool* flag = std::get_if<bool>(&value)) return *flag ? "yes" : "no";
  if (const std::string* word = std::get_if<std::string>(&value)) return *word;
  if (const auto* words = std::get_if<std::vector<std::string>>(&value)) return join(*words, ", ");
  const double number = std::get<double>(value);
  const UnitRow* unit = find_unit(attribute.unit);
  // Small amounts keep a third decimal: 0.414 kg must not become 0.41 kg.
  const double size = std::abs(unit == nullptr ? number : number / unit->size);
  return with_unit(number, attribute.unit, size < 10 ? 3 : 2);
}

Result<Value> parse_value(const Attribute& attribute, std::string_view text) {
  text = trim(text);
  if (text.empty()) {
    return refuse(Code::kBadInput, fmt::format("there is no value for {}", attribute.id));
  }
  switch (attribute.type) {
    case AttributeType::kFlag: return parse_flag(text);
    case AttributeType::kWords: return parse_words(attribute, text);
    case AttributeType::kWord: {
      Result<std::string> word = parse_word(attribute, text);
      if (!word) return std::unexpected(word.error());
      return Value{std::move(*word)};
    }
    case AttributeType::kNumber: {
      const Result<double> number = parse_amount(text, attribute.dimension, attribute.unit);
      if (!number) return std::unexpected(number.error());
      return Value{*number};
    }
  }
  broken_promise("every attribute type is read", __FILE__, __LINE__);
}

}  // namespace rollwright::trade
