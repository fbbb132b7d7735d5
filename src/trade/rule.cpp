#include "trade/rule.hpp"

#include <set>

namespace rollwright::trade {

std::string_view word_of(Severity severity) {
  switch (severity) {
    case Severity::kStop: return "STOP";
    case Severity::kFit: return "FIT";
    case Severity::kWork: return "WORK";
    case Severity::kClaim: return "CLAIM";
  }
  broken_promise("every severity has a word", __FILE__, __LINE__);
}

std::string_view word_of(Verdict verdict) {
  switch (verdict) {
    case Verdict::kFits: return "fits";
    case Verdict::kFitsWith: return "fits with";
    case Verdict::kFitsWithCare: return "fits with care";
    case Verdict::kNotKnown: return "not known";
    case Verdict::kDoesNotFit: return "does not fit";
  }
  broken_promise("every verdict has a word", __FILE__, __LINE__);
}

std::string_view word_of(RuleShape shape) {
  switch (shape) {
    case RuleShape::kSame: return "same";
    case RuleShape::kOneOf: return "one_of";
    case RuleShape::kAtLeast: return "at_least";
    case RuleShape::kAtMost: return "at_most";
    case RuleShape::kWithin: return "within";
    case RuleShape::kPairTable: return "pair_table";
    case RuleShape::kNeeds: return "needs";
    case RuleShape::kSum: return "sum";
    case RuleShape::kComputed: return "computed";
  }
  broken_promise("every rule shape has a word", __FILE__, __LINE__);
}

std::vector<SlotId> scope_of(const Rule& rule) {
  std::set<SlotId> scope;
  const auto look_at = [&scope](const SlotId& slot) {
    const bool real =
        !slot.empty() && slot.text != "order" && slot.text != "rider" && slot.text != "*";
    if (real) scope.insert(slot);
  };
  for (const auto* operands : {&rule.left, &rule.right, &rule.terms}) {
    for (const Operand& operand : *operands) look_at(operand.slot);
  }
  for (const Condition& condition : rule.conditions) look_at(condition.operand.slot);
  for (const SlotId& slot : rule.slots) look_at(slot);
  return {scope.begin(), scope.end()};
}

}  // namespace rollwright::trade
