#include "spec/sentence.hpp"

#include "base/text.hpp"
#include "spec/evaluate.hpp"
#include "trade/pseudo.hpp"
#include "trade/rule_calculations.hpp"

namespace rollwright::spec {

namespace {

const trade::Attribute* attribute_of(const trade::Trade& trade, const std::string& id) {
  const auto found = trade.attributes.find(id);
  return found == trade.attributes.end() ? nullptr : &found->second;
}

/// The attribute that says in what the rule's literals and sums are measured.
const trade::Attribute* leading_attribute(const trade::Trade& trade, const trade::Rule& rule) {
  for (const auto* operands : {&rule.left, &rule.terms, &rule.right}) {
    for (const trade::Operand& operand : *operands) {
      if (operand.is_literal()) continue;
      if (const auto* attribute = attribute_of(trade, operand.attribute)) return attribute;
    }
  }
  return nullptr;
}

/// A calculation answers in its own dimension, whatever its arguments are.
trade::Attribute answer_attribute(const trade::Trade& trade, const trade::Rule& rule) {
  if (const auto* calculation = trade::find_rule_calculation(rule.compute)) {
    return {.type = trade::AttributeType::kNumber,
            .dimension = calculation->answer,
            .unit = std::string(own_unit(calculation->answer))};
  }
  const trade::Attribute* leading = leading_attribute(trade, rule);
  return leading != nullptr ? *leading : trade::Attribute{};
}

class Filler {
 public:
  Filler(const trade::Trade& trade, const trade::Rule& rule, const Blanks& blanks)
      : trade_(trade), rule_(rule), blanks_(blanks) {}

  /// What belongs into the blank, or nothing when it is none that we know.
  [[nodiscard]] std::optional<std::string> text_for(const std::string& blank) const {
    const bool has_answer =
        rule_.shape == trade::RuleShape::kSum || rule_.shape == trade::RuleShape::kComputed;
    if (blank == "answer" || blank == "sum" || (blank == "left" && has_answer)) return answer();
    if (blank == "left" && !rule_.left.empty()) return blanks_.value(rule_.left[0]);
    if (blank == "right") return right();
    if (blank == "low" && !rule_.right.empty()) return blanks_.value(rule_.right[0]);
    if (blank == "high" && rule_.right.size() > 1) return blanks_.value(rule_.right[1]);
    if (blank.starts_with("part:") || blank.starts_with("part ")) {
      return blanks_.part_name(trade::SlotId(std::string(trim(blank.substr(5)))));
    }
    const auto dot = blank.find('.');
    if (dot == std::string::npos) return std::nullopt;
    return blanks_.value({trade::SlotId(blank.substr(0, dot)), blank.substr(dot + 1), {}});
  }

 private:
  [[nodiscard]] std::string answer() const {
    if (!blanks_.answer) return "not yet known";
    return blanks_.before_answer +
           trade::shown(answer_attribute(trade_, rule_), trade::Value(*blanks_.answer));
  }

  [[nodiscard]] std::optional<std::string> right() const {
    if (rule_.right.empty()) {
      return rule_.words.empty() ? std::nullopt : std::optional(join(rule_.words, ", "));
    }
    if (rule_.right.size() == 1) return blanks_.value(rule_.right[0]);
    return blanks_.value(rule_.right[0]) + " to " + blanks_.value(rule_.right[1]);
  }

  const trade::Trade& trade_;
  const trade::Rule& rule_;
  const Blanks& blanks_;
};

}  // namespace

std::string slot_name(const trade::Trade& trade, const trade::SlotId& slot) {
  const trade::Slot* found = trade::find_slot(trade, slot);
  return found != nullptr ? found->name : slot.text;
}

std::string attribute_name(const trade::Trade& trade, const std::string& attribute) {
  const trade::Attribute* found = attribute_of(trade, attribute);
  return found != nullptr ? found->name : attribute;
}

std::string shown_value(const trade::Trade& trade, const trade::Rule& rule,
                        const trade::Operand& operand, const trade::Value& value) {
  const trade::Attribute* attribute = operand.is_literal()
                                          ? nullptr
                                          : attribute_of(trade, operand.attribute);
  if (attribute != nullptr) return trade::shown(*attribute, value);
  return trade::shown(answer_attribute(trade, rule), value);
}

std::string filled_in(const trade::Trade& trade, const trade::Rule& rule, const Blanks& blanks) {
  const Filler filler(trade, rule, blanks);
  std::string text;
  std::size_t from = 0;
  while (from < rule.sentence.size()) {
    const auto open = rule.sentence.find('{', from);
    const auto close = open == std::string::npos ? open : rule.sentence.find('}', open);
    if (close == std::string::npos) break;
    text += rule.sentence.substr(from, open - from);
    const std::string blank = rule.sentence.substr(open + 1, close - open - 1);
    text += filler.text_for(blank).value_or("{" + blank + "}");
    from = close + 1;
  }
  return text + rule.sentence.substr(from);
}

}  // namespace rollwright::spec
