#include "spec/evaluate.hpp"

#include <set>

#include "base/text.hpp"
#include "spec/rule_form.hpp"
#include "spec/sentence.hpp"
#include "trade/pseudo.hpp"

namespace rollwright::spec {

using trade::Verdict;

namespace {

std::string part_name(const trade::Trade& trade, const Lookup& lookup, const trade::SlotId& slot) {
  const trade::Part* part = lookup(slot);
  return part != nullptr ? part->name : "no " + slot_name(trade, slot);
}

std::vector<MissingFact> missing_facts(const trade::Trade& trade, const RuleForm& form,
                                       std::span<const Held> held, const Lookup& lookup) {
  std::vector<MissingFact> missing;
  std::set<std::pair<trade::SlotId, std::string>> seen;
  for (std::size_t i = 0; i < held.size(); ++i) {
    const trade::Operand& operand = form.operands[i];
    if (held[i].state != Held::State::kNotKnown) continue;
    if (!seen.emplace(operand.slot, operand.attribute).second) continue;
    const trade::Part* part = lookup(operand.slot);
    std::string of = trade::is_pseudo(operand.slot)
                         ? " of the " + operand.slot.text
                         : " of " + part->name + " (" + slot_name(trade, operand.slot) + ")";
    missing.push_back({operand.slot, operand.attribute,
                       trade::is_pseudo(operand.slot) ? trade::PartId() : part->id,
                       attribute_name(trade, operand.attribute) + of});
  }
  return missing;
}

std::string sentence_of_gaps(const std::vector<MissingFact>& missing) {
  std::vector<std::string> pieces;
  for (const MissingFact& fact : missing) pieces.push_back(fact.sentence);
  return "Not known yet: " + listed(pieces) + ".";
}

std::string sentence_of_failure(const trade::Trade& trade, const RuleForm& form,
                                const Judgement& judgement, const Lookup& lookup) {
  const trade::Rule& rule = *form.rule;
  const auto value = [&](const trade::Operand& operand) -> std::string {
    const Held held = held_by(operand, operand.is_literal() ? nullptr : lookup(operand.slot));
    if (held.known()) return shown_value(trade, rule, operand, *held.value);
    return held.empty() ? "no " + slot_name(trade, operand.slot) : "not known";
  };
  const auto name = [&](const trade::SlotId& slot) { return part_name(trade, lookup, slot); };
  std::string sentence = filled_in(trade, rule, {value, name, judgement.answer});
  if (!judgement.refusal.empty()) sentence += " (" + judgement.refusal + ")";
  return sentence;
}

std::string sentence_of(const trade::Trade& trade, const RuleForm& form,
                        const Judgement& judgement, const Lookup& lookup) {
  const trade::TableRow* row = judgement.row;
  if (row != nullptr && !row->note.empty()) return row->note;
  switch (judgement.verdict) {
    case Verdict::kFits: return "";
    case Verdict::kFitsWith: return "Fits with " + row->adapter + ".";
    case Verdict::kNotKnown:
      return judgement.incomparable
                 ? "Rule " + form.rule->name() + " compares a word with a number."
                 : "Nobody has said yet whether these go together: ask the maker.";
    case Verdict::kFitsWithCare:
    case Verdict::kDoesNotFit: break;
  }
  return sentence_of_failure(trade, form, judgement, lookup);
}

}  // namespace

Outcome evaluate(const trade::Trade& trade, const trade::Rule& rule, const Lookup& lookup) {
  const RuleForm form = form_of(trade, rule);
  std::vector<Held> held;
  held.reserve(form.operands.size());
  for (const trade::Operand& operand : form.operands) {
    held.push_back(held_by(operand, operand.is_literal() ? nullptr : lookup(operand.slot)));
  }
  const Judgement judgement = judge(form, held);

  Outcome outcome{.applies = judgement.applies, .verdict = judgement.verdict};
  if (outcome.verdict == Verdict::kFits) return outcome;
  if (judgement.row != nullptr) outcome.adapter = judgement.row->adapter;
  if (outcome.verdict == Verdict::kNotKnown) {
    outcome.missing_facts = missing_facts(trade, form, held, lookup);
  }
  outcome.sentence = outcome.missing_facts.empty() ? sentence_of(trade, form, judgement, lookup)
                                                   : sentence_of_gaps(outcome.missing_facts);
  for (const trade::SlotId& slot : rule.slots) {
    if (outcome.verdict != Verdict::kNotKnown && lookup(slot) == nullptr) {
      outcome.missing_slots.push_back(slot);
    }
  }
  return outcome;
}

Outcome evaluate(const trade::Trade& trade, const trade::Rule& rule, const Bike& bike) {
  return evaluate(trade, rule, [&bike](const trade::SlotId& slot) { return bike.part_in(slot); });
}

}  // namespace rollwright::spec
