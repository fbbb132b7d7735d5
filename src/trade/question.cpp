#include "trade/question.hpp"

namespace rollwright::trade {

Rule as_rule(const Question& question) {
  // "yes is among the words of no" never holds, whatever the bike.
  Rule rule{.id = question.id, .severity = question.severity, .shape = RuleShape::kOneOf,
            .left = {Operand{.literal = true}}, .words = {"no"}, .sentence = question.if_no,
            .source = question.source, .file = question.file, .line = question.line};
  for (const SlotId& slot : question.slots) {
    rule.conditions.push_back({.operand = {.slot = slot, .attribute = "*filled"}});
  }
  rule.conditions.insert(rule.conditions.end(), question.conditions.begin(),
                         question.conditions.end());
  return rule;
}

bool is_time_for(const Question& question, OrderState state) {
  if (!question.on_the_bike) return true;
  using enum OrderState;
  for (const OrderState early : {kEnquiry, kDraft, kOffer, kAgreed, kGathering, kKitted, kAtMaker,
                                 kUnderWay, kCancelled}) {
    if (state == early) return false;
  }
  return true;
}

std::map<SlotId, PartId> about(const Question& question, const Order& order) {
  std::map<SlotId, PartId> parts;
  for (const SlotId& slot : scope_of(as_rule(question))) {
    const auto chosen = order.choices.find(slot);
    if (chosen != order.choices.end()) parts.insert(*chosen);
  }
  return parts;
}

const Answered* answer_to(const Question& question, const Order& order) {
  const auto found = order.answers.find(question.id);
  if (found == order.answers.end()) return nullptr;
  return found->second.about == about(question, order) ? &found->second : nullptr;
}

}  // namespace rollwright::trade
