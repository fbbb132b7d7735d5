#include <gtest/gtest.h>

#include <iostream>

#include "spec/bike_cases.hpp"
#include "spec/evaluate.hpp"

// What nobody knows never counts as fitting: for every rule of data/trade, on a bike of the demo's
// parts that fits, each fact that the rule asks is taken away in turn.
//
// The rule may stay as it was in three cases only, each of which this test recognises by itself:
//   need not asked   the cause of a need is known not to hold; what would help does not matter
//   need met         what helps is known to hold; whether it was asked for does not matter
//   row with a star  the table row that decides takes anything in that column
// In all other cases the answer must be "not known".

namespace rollwright::spec {
namespace {

using trade::RuleShape;
using trade::Standing;
using trade::Verdict;

struct Fitting {
  Bike bike;
  Judgement judgement;
};

std::vector<Held> held_of(const RuleForm& form, const Bike& bike) {
  std::vector<Held> held;
  for (const trade::Operand& operand : form.operands) {
    held.push_back(held_by(operand, operand.is_literal() ? nullptr : bike.part_in(operand.slot)));
  }
  return held;
}

std::optional<Fitting> fitting_bike(const RuleForm& form) {
  std::optional<Fitting> found;
  for (const Bike& base : bases_for(*form.rule)) {
    for_bikes(*form.rule, base, 6000, false, [&](const Bike& bike) {
      const Judgement judgement = judge(form, held_of(form, bike));
      if (!judgement.applies || judgement.verdict > Verdict::kFitsWithCare) return true;
      // A failing CLAIM asks for care; only rows of a table fit with care.
      if (judgement.verdict == Verdict::kFitsWithCare && judgement.row == nullptr) return true;
      found = Fitting{bike, judgement};
      return false;
    });
    if (found) return found;
  }
  return found;
}

/// Whether the rule's stated meaning lets the rest settle the matter without operand `i`.
bool settled_by_the_rest(const RuleForm& form, const Fitting& fitting, std::size_t i) {
  if (form.rule->shape == RuleShape::kNeeds) return i >= form.left;
  if (form.rule->shape != RuleShape::kPairTable || i < form.left) return false;
  const trade::Value& cell = fitting.judgement.row->cells[i - form.left];
  const auto* word = std::get_if<std::string>(&cell);
  return word != nullptr && *word == "*";
}

/// The bike without one fact; `copy` keeps the part that lacks it.
Bike without(const Bike& bike, const trade::Operand& operand, trade::Part& copy) {
  Bike other = bike;
  if (operand.slot.text == "order") {
    other.order.facts.erase(operand.attribute);
  } else if (operand.slot.text == "rider") {
    other.rider.facts.erase(operand.attribute);
  } else {
    copy = *bike.parts.at(operand.slot);
    copy.facts.erase(operand.attribute);
    other.parts[operand.slot] = &copy;
  }
  return other;
}

struct Tally {
  int pairs = 0;
  int settled = 0;
  int rules = 0;
};

void take_away_each(const RuleForm& form, const Fitting& fitting, Tally& tally) {
  std::set<std::pair<trade::SlotId, std::string>> done;
  const std::vector<Held> held = held_of(form, fitting.bike);
  for (std::size_t i = 0; i < form.operands.size(); ++i) {
    const trade::Operand& operand = form.operands[i];
    const bool is_fact = !operand.is_literal() && operand.attribute != "*filled" && held[i].known();
    if (!is_fact || !done.emplace(operand.slot, operand.attribute).second) continue;
    trade::Part copy;
    const Bike other = without(fitting.bike, operand, copy);
    const Verdict verdict = judge(form, held_of(form, other)).verdict;
    ++tally.pairs;
    if (verdict == Verdict::kNotKnown) continue;
    EXPECT_EQ(verdict, fitting.judgement.verdict) << form.rule->name();
    EXPECT_TRUE(settled_by_the_rest(form, fitting, i))
        << form.rule->name() << " says " << trade::word_of(verdict) << " without "
        << operand.slot.text << "." << operand.attribute;
    ++tally.settled;
  }
}

TEST(NotKnown, NeverCountsAsFittingInAnyRuleOfTheTrade) {
  ASSERT_TRUE(real_trade().problems.empty()) << real_trade().problems.front().full();
  ASSERT_TRUE(demo_shop().problems.empty()) << demo_shop().problems.front().full();
  Tally tally;
  for (const trade::Rule& rule : real_trade().trade.rules) {
    const RuleForm form = form_of(real_trade().trade, rule);
    const std::optional<Fitting> fitting = fitting_bike(form);
    EXPECT_TRUE(fitting) << rule.name() << " fits no bike of the demo's parts";
    if (!fitting) continue;
    ++tally.rules;
    take_away_each(form, *fitting, tally);
  }
  RecordProperty("pairs_of_rule_and_fact", tally.pairs);
  RecordProperty("settled_by_the_rest", tally.settled);
  EXPECT_EQ(tally.rules, static_cast<int>(real_trade().trade.rules.size()));
  EXPECT_GE(tally.pairs, 900);
  EXPECT_LE(tally.settled, tally.pairs / 10);
  std::cout << tally.pairs << " pairs of rule and fact, " << tally.settled
            << " settled by the rest, " << tally.rules << " rules\n";
}

}  // namespace
}  // namespace rollwright::spec
