#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "trade/rule.hpp"
#include "trade/trade_loading.hpp"

namespace rollwright::trade {

/// An operand with what is known of the values it can take.
struct ReadOperand {
  Operand operand;
  AttributeType type = AttributeType::kNumber;
  Dimension dimension = Dimension::kNone;
  std::string unit;                  // of the attribute
  std::vector<std::string> choices;  // of the attribute
  bool filled = false;               // "*filled"
  bool bare = false;                 // a literal number without a unit
  bool certain = true;               // false: the names could not be checked; do not compare

  [[nodiscard]] bool is_number() const { return !filled && type == AttributeType::kNumber; }
  [[nodiscard]] bool is_flag() const { return !filled && type == AttributeType::kFlag; }
  [[nodiscard]] bool has_words() const {
    return !filled && (type == AttributeType::kWord || type == AttributeType::kWords);
  }
  /// "length", "yes or no", "set of words": for sentences.
  [[nodiscard]] std::string meaning() const;
};

/// Whether a text has the form "slot.attribute" rather than that of an amount.
[[nodiscard]] bool is_reference(std::string_view text);

/// Reads "fork.steerer_length", "rider.rider_mass", "belt.*filled", "*.mass", "6 mm", "36", "true".
/// Notes a problem of the field and gives nothing when the text is none of these, or the slot or
/// the attribute is unknown, or no kind of the slot has the attribute.
[[nodiscard]] std::optional<ReadOperand> read_operand(TradeLoading& loading,
                                                      const std::string& text, const Place& place);

/// A condition as the file gives it: `{ that = "motor.placement", is = ["mid"] }`.
struct WrittenCondition {
  std::string that;
  std::vector<std::string> words;
  bool has_is = false;
  bool has_is_not = false;
  Place place;
};

[[nodiscard]] std::vector<WrittenCondition> written_conditions(TradeLoading& loading,
                                                               TableReader& reader,
                                                               std::string_view key);
[[nodiscard]] WrittenCondition written_condition(TradeLoading& loading, const TomlValue& table,
                                                 const Place& place);
/// Notes a problem and gives nothing when the condition could never be judged.
[[nodiscard]] std::optional<Condition> read_condition(TradeLoading& loading,
                                                      const WrittenCondition& written);

/// Refuses words that the operand can never be.
void check_words(TradeLoading& loading, const ReadOperand& operand,
                 const std::vector<std::string>& words, const Place& place);

}  // namespace rollwright::trade
