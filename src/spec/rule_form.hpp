#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "spec/calculations.hpp"
#include "trade/trade.hpp"

namespace rollwright::spec {

/// What an operand comes to for one bike. The value belongs to a part, an order or a rule.
struct Held {
  enum class State { kEmptySlot, kNotKnown, kKnown };
  State state = State::kEmptySlot;
  const trade::Value* value = nullptr;  // only when known

  [[nodiscard]] bool known() const { return state == State::kKnown; }
  [[nodiscard]] bool empty() const { return state == State::kEmptySlot; }
};
/// Equal for every rule: same state and same value.
[[nodiscard]] bool operator==(const Held& a, const Held& b);

/// A rule laid out flat, so that judging it is a matter of an array of values. The operands are, in
/// this order: those of the conditions, left, right, the terms of a sum ("*" spelled out slot by
/// slot) and the slots that kNeeds asks for (as "*filled").
struct RuleForm {
  const trade::Rule* rule = nullptr;
  const trade::PairTable* table = nullptr;   // of kPairTable
  const Calculation* calculation = nullptr;  // of kComputed
  std::vector<trade::Operand> operands;
  std::vector<double> factors;  // one per term
  std::size_t left = 0;         // index of the first left operand, and so on
  std::size_t right = 0;
  std::size_t terms = 0;
  std::size_t needed = 0;
};
[[nodiscard]] RuleForm form_of(const trade::Trade& trade, const trade::Rule& rule);

/// What the operand comes to when `part` (null: none) fills its slot. A literal needs no part.
[[nodiscard]] Held held_by(const trade::Operand& operand, const trade::Part* part);

struct Judgement {
  bool applies = false;
  trade::Verdict verdict = trade::Verdict::kFits;
  const trade::TableRow* row = nullptr;  // the row that decided
  std::optional<double> answer;          // of a sum or a calculation
  std::string refusal;                   // why a calculation could not be made
  bool incomparable = false;             // a word met a number
};

/// The meaning of the rule, see evaluate.hpp. `held` is parallel to the form's operands.
[[nodiscard]] Judgement judge(const RuleForm& form, std::span<const Held> held);

/// What a sum comes to before its terms are looked at.
struct SumLimit {
  enum class Kind { kNotApplying, kNotKnown, kLimit };
  Kind kind = Kind::kNotApplying;
  double limit = 0;  // for the terms alone: right less offset, over the share that counts
};
[[nodiscard]] SumLimit sum_limit(const RuleForm& form, std::span<const Held> held);

/// The verdict of a rule that fails.
[[nodiscard]] trade::Verdict verdict_of_failure(trade::Severity severity);

/// Room for rounding when numbers of this size are compared.
[[nodiscard]] double slack(double a, double b);

}  // namespace rollwright::spec
