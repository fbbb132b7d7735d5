#pragma once

#include <functional>
#include <optional>
#include <string>

#include "spec/rule_form.hpp"
#include "trade/trade.hpp"

namespace rollwright::spec {

/// "rear hub", "order", "rider": what people call a slot.
[[nodiscard]] std::string slot_name(const trade::Trade& trade, const trade::SlotId& slot);

/// The name of an attribute, or its id when the trade does not list it.
[[nodiscard]] std::string attribute_name(const trade::Trade& trade, const std::string& attribute);

/// A value of the operand as people read it. A literal is shown like the rule's first operand that
/// names an attribute, so that "23 <= tyre width" shows millimetres.
[[nodiscard]] std::string shown_value(const trade::Trade& trade, const trade::Rule& rule,
                                      const trade::Operand& operand, const trade::Value& value);

/// How the blanks of a rule's sentence are filled.
struct Blanks {
  std::function<std::string(const trade::Operand&)> value;       // "28.6 mm"
  std::function<std::string(const trade::SlotId&)> part_name;    // "Alder 200"
  std::optional<double> answer = {};  // of a sum or a calculation
  std::string before_answer = {};     // "at least "
};

/// The rule's sentence with its blanks filled: {left}, {right} (low to high when there are two),
/// {low}, {high}, {answer} and {sum} (which is also what {left} means in sums and calculations),
/// {slot.attribute}, {part:slot}. What is not one of these stays as it stands.
[[nodiscard]] std::string filled_in(const trade::Trade& trade, const trade::Rule& rule,
                                    const Blanks& blanks);

}  // namespace rollwright::spec
