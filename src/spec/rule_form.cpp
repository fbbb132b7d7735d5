#include "spec/rule_form.hpp"

#include <algorithm>
#include <cmath>

#include "base/text.hpp"

namespace rollwright::spec {

using trade::RuleShape;
using trade::Value;
using trade::Verdict;

namespace {

constexpr std::string_view kFilled = "*filled";
const Value kYesValue = true;
const Value kNoValue = false;

/// Three-valued truth. The order makes "and" the smallest and "or" the greatest.
enum class Truth { kNo, kNotKnown, kYes };

Truth both(Truth a, Truth b) { return std::min(a, b); }
Truth either(Truth a, Truth b) { return std::max(a, b); }
Truth opposite(Truth a) {
  return a == Truth::kNotKnown ? a : (a == Truth::kYes ? Truth::kNo : Truth::kYes);
}
Truth truth_of(bool yes) { return yes ? Truth::kYes : Truth::kNo; }

std::optional<double> number_in(const Held& held) {
  const double* number = held.known() ? std::get_if<double>(held.value) : nullptr;
  return number != nullptr ? std::optional(*number) : std::nullopt;
}

bool has_word(const Value& value, std::string_view word) {
  if (const bool* flag = std::get_if<bool>(&value)) return word == (*flag ? "yes" : "no");
  if (const std::string* one = std::get_if<std::string>(&value)) return *one == word;
  if (const auto* many = std::get_if<std::vector<std::string>>(&value)) {
    return std::find(many->begin(), many->end(), word) != many->end();
  }
  const double number = std::get<double>(value);
  const std::optional<double> wanted = to_number(word);
  return wanted && std::abs(number - *wanted) <= slack(number, *wanted);
}

bool among(const Value& value, const std::vector<std::string>& words) {
  return std::any_of(words.begin(), words.end(),
                     [&](const std::string& word) { return has_word(value, word); });
}

bool share_a_word(const Value& a, const Value& b) {
  if (const auto* many = std::get_if<std::vector<std::string>>(&b)) return among(a, *many);
  if (const auto* one = std::get_if<std::string>(&b)) return has_word(a, *one);
  return has_word(a, std::get<bool>(b) ? "yes" : "no");
}

/// Judging one rule for one bike; remembers on the way what the answer rests on.
class Judge {
 public:
  Judge(const RuleForm& form, std::span<const Held> held)
      : form_(form), rule_(*form.rule), held_(held) {}

  Judgement run() {
    const Truth applies = applying();
    if (applies == Truth::kNo) return {};
    result_.applies = true;
    if (applies == Truth::kNotKnown) {
      result_.verdict = Verdict::kNotKnown;
    } else if (rule_.shape == RuleShape::kPairTable) {
      result_.verdict = look_up();
    } else {
      result_.verdict = verdict_of(holds());
    }
    return result_;
  }

  /// Whether the rule has anything to say: every slot it looks at is filled, every condition holds.
  Truth applying() {
    if (has_empty_slot()) return Truth::kNo;
    Truth all = Truth::kYes;
    for (std::size_t i = 0; i < rule_.conditions.size(); ++i) {
      all = both(all, condition(rule_.conditions[i], held_[i]));
    }
    return all;
  }

 private:
  [[nodiscard]] std::span<const Held> between(std::size_t from, std::size_t to) const {
    return held_.subspan(from, to - from);
  }
  [[nodiscard]] std::span<const Held> left() const { return between(form_.left, form_.right); }
  [[nodiscard]] std::span<const Held> right() const { return between(form_.right, form_.terms); }
  [[nodiscard]] std::span<const Held> terms() const { return between(form_.terms, form_.needed); }
  [[nodiscard]] std::span<const Held> needed() const {
    return between(form_.needed, held_.size());
  }

  [[nodiscard]] bool has_empty_slot() const {
    const auto is_empty = [](const Held& held) { return held.empty(); };
    // A need that may be met by a filled slot as well does not hang on the right-hand part.
    const bool right_may_be_empty = rule_.shape == RuleShape::kNeeds && !rule_.slots.empty();
    return std::ranges::any_of(left(), is_empty) ||
           (!right_may_be_empty && std::ranges::any_of(right(), is_empty));
  }

  static Truth condition(const trade::Condition& condition, const Held& held) {
    if (held.empty()) return Truth::kNo;
    if (!held.known()) return Truth::kNotKnown;
    const bool yes = condition.words.empty() ? has_word(*held.value, "yes")
                                             : among(*held.value, condition.words);
    return condition.negated ? opposite(truth_of(yes)) : truth_of(yes);
  }

  [[nodiscard]] Verdict verdict_of(Truth holds) const {
    if (holds == Truth::kYes) return Verdict::kFits;
    if (holds == Truth::kNotKnown) return Verdict::kNotKnown;
    return verdict_of_failure(rule_.severity);
  }

  Truth holds() {
    switch (rule_.shape) {
      case RuleShape::kSame: return same(left()[0], right()[0]);
      case RuleShape::kOneOf: return one_of();
      case RuleShape::kAtLeast: return not_less(shifted(left()[0]), right()[0]);
      case RuleShape::kAtMost: return not_less(right()[0], shifted(left()[0]));
      case RuleShape::kWithin: return within();
      case RuleShape::kNeeds: return needs();
      case RuleShape::kSum: return sum();
      case RuleShape::kComputed: return computed();
      case RuleShape::kPairTable: break;
    }
    return Truth::kNotKnown;
  }

  Truth incomparable() {
    result_.incomparable = true;
    return Truth::kNotKnown;
  }

  Truth same(const Held& a, const Held& b) {
    if (!a.known() || !b.known()) return Truth::kNotKnown;
    const auto x = number_in(a);
    const auto y = number_in(b);
    if (x && y) return truth_of(std::abs(*x - *y) <= rule_.tolerance + slack(*x, *y));
    if (x || y) return incomparable();
    return truth_of(share_a_word(*a.value, *b.value));
  }

  Truth one_of() {
    if (right().empty()) {
      return left()[0].known() ? truth_of(among(*left()[0].value, rule_.words)) : Truth::kNotKnown;
    }
    return same(left()[0], right()[0]);
  }

  /// The left operand with the rule's offset added; the sum lives as long as the judge.
  Held shifted(const Held& held) {
    const auto number = number_in(held);
    if (!number) return held;
    shifted_ = *number + rule_.offset;
    return {Held::State::kKnown, &shifted_};
  }

  Truth not_less(const Held& a, const Held& b) {
    if (!a.known() || !b.known()) return Truth::kNotKnown;
    const auto x = number_in(a);
    const auto y = number_in(b);
    return x && y ? truth_of(*x >= *y - slack(*x, *y)) : incomparable();
  }

  Truth within() {
    if (right().size() == 1) return same(left()[0], right()[0]);
    return both(not_less(left()[0], right()[0]), not_less(right()[1], left()[0]));
  }

  Truth needs() {
    const Held& cause = left()[0];
    const Truth asked = !cause.known() ? Truth::kNotKnown
                        : rule_.words.empty() ? truth_of(has_word(*cause.value, "yes"))
                                              : truth_of(among(*cause.value, rule_.words));
    Truth met = Truth::kNo;
    if (!needed().empty()) {
      met = truth_of(std::ranges::all_of(needed(), [](const Held& held) {
        return has_word(*held.value, "yes");
      }));
    }
    if (!right().empty() && !right()[0].empty()) {
      const Held& help = right()[0];
      met = either(met, help.known() ? truth_of(has_word(*help.value, "yes")) : Truth::kNotKnown);
    }
    return either(opposite(asked), met);
  }

  Truth sum() {
    double total = 0;
    bool all_known = true;
    for (std::size_t i = 0; i < terms().size(); ++i) {
      const Held& term = terms()[i];
      if (term.empty()) continue;
      const auto number = number_in(term);
      if (number) {
        total += form_.factors[i] * *number;
      } else {
        all_known = false;
        result_.incomparable |= term.known();
      }
    }
    result_.answer = rule_.share * total + rule_.offset;
    const auto most = number_in(right()[0]);
    if (!most) return right()[0].known() ? incomparable() : Truth::kNotKnown;
    if (*result_.answer > *most + slack(*result_.answer, *most)) return Truth::kNo;
    return all_known ? Truth::kYes : Truth::kNotKnown;
  }

  Truth computed() {
    std::vector<double> arguments;
    for (const Held& held : left()) {
      const auto number = number_in(held);
      if (!number) return held.known() ? incomparable() : Truth::kNotKnown;
      arguments.push_back(*number);
    }
    const Result<double> answer = form_.calculation->compute(arguments);
    if (!answer) {
      result_.refusal = answer.error().sentence;
      return Truth::kNo;
    }
    result_.answer = *answer;
    computed_ = *answer;
    const Held held{Held::State::kKnown, &computed_};
    return both(not_less(held, right()[0]), not_less(right()[1], held));
  }

  Verdict look_up() {
    for (const trade::TableRow& row : form_.table->rows) {
      const Truth matches = row_matches(row);
      if (matches == Truth::kNotKnown) return Verdict::kNotKnown;
      if (matches == Truth::kNo) continue;
      result_.row = &row;
      return row.verdict == Verdict::kDoesNotFit ? verdict_of_failure(rule_.severity)
                                                 : row.verdict;
    }
    return verdict_of_failure(rule_.severity);
  }

  Truth row_matches(const trade::TableRow& row) {
    Truth all = Truth::kYes;
    for (std::size_t i = 0; i < left().size() && all != Truth::kNo; ++i) {
      all = both(all, cell_matches(row, i, left()[i]));
    }
    return all;
  }

  Truth cell_matches(const trade::TableRow& row, std::size_t column, const Held& held) {
    const Value& cell = row.cells[column];
    const std::string* word = std::get_if<std::string>(&cell);
    if (word != nullptr && *word == "*") return Truth::kYes;
    if (!held.known()) return Truth::kNotKnown;
    if (!form_.table->numeric[column]) {
      if (std::holds_alternative<double>(cell)) return incomparable();
      return truth_of(share_a_word(*held.value, cell));
    }
    const auto number = number_in(held);
    if (!number) return incomparable();
    const auto [low, high] = row.ranges[column];
    return truth_of(low - slack(low, *number) <= *number && *number <= high + slack(high, *number));
  }

  const RuleForm& form_;
  const trade::Rule& rule_;
  std::span<const Held> held_;
  Judgement result_;
  Value shifted_;
  Value computed_;
};

/// The trade's loader refuses rules that lack what their shape asks for.
void require_operands(const trade::Rule& rule) {
  using enum RuleShape;
  const std::size_t right = rule.right.size();
  const bool has_left = !rule.left.empty();
  switch (rule.shape) {
    case kSame:
    case kAtLeast:
    case kAtMost: ROLLWRIGHT_PROMISE(has_left && right == 1); return;
    case kOneOf: ROLLWRIGHT_PROMISE(has_left && (right == 1 || !rule.words.empty())); return;
    case kWithin: ROLLWRIGHT_PROMISE(has_left && (right == 1 || right == 2)); return;
    case kPairTable: ROLLWRIGHT_PROMISE(has_left); return;
    case kNeeds: ROLLWRIGHT_PROMISE(has_left && (right == 1 || !rule.slots.empty())); return;
    case kSum: ROLLWRIGHT_PROMISE(!rule.terms.empty() && right == 1); return;
    case kComputed: ROLLWRIGHT_PROMISE(has_left && right == 2); return;
  }
}

void add_terms(const trade::Trade& trade, const trade::Rule& rule, RuleForm& form) {
  for (const trade::Operand& term : rule.terms) {
    if (term.slot.text != "*") {
      form.operands.push_back(term);
      form.factors.push_back(1);
      continue;
    }
    for (const trade::Slot& slot : trade.slots) {
      form.operands.push_back({slot.id, term.attribute, {}});
      form.factors.push_back(slot.quantity);
    }
  }
}

}  // namespace

bool operator==(const Held& a, const Held& b) {
  return a.state == b.state && (!a.known() || *a.value == *b.value);
}

double slack(double a, double b) {
  if (std::isinf(a) || std::isinf(b)) return 0;
  return 1e-9 * std::max({1.0, std::abs(a), std::abs(b)});
}

trade::Verdict verdict_of_failure(trade::Severity severity) {
  return severity == trade::Severity::kClaim ? Verdict::kFitsWithCare : Verdict::kDoesNotFit;
}

RuleForm form_of(const trade::Trade& trade, const trade::Rule& rule) {
  RuleForm form{.rule = &rule};
  require_operands(rule);
  for (const trade::Condition& condition : rule.conditions) {
    form.operands.push_back(condition.operand);
  }
  form.left = form.operands.size();
  form.operands.insert(form.operands.end(), rule.left.begin(), rule.left.end());
  form.right = form.operands.size();
  form.operands.insert(form.operands.end(), rule.right.begin(), rule.right.end());
  form.terms = form.operands.size();
  add_terms(trade, rule, form);
  form.needed = form.operands.size();
  for (const trade::SlotId& slot : rule.slots) {
    form.operands.push_back({slot, std::string(kFilled), {}});
  }
  const auto table = trade.tables.find(rule.table);
  if (table != trade.tables.end()) form.table = &table->second;
  form.calculation = find_calculation(rule.compute);
  ROLLWRIGHT_PROMISE(rule.shape != RuleShape::kPairTable || form.table != nullptr);
  ROLLWRIGHT_PROMISE(rule.shape != RuleShape::kComputed || form.calculation != nullptr);
  return form;
}

Held held_by(const trade::Operand& operand, const trade::Part* part) {
  if (operand.is_literal()) return {Held::State::kKnown, &operand.literal};
  if (operand.attribute == kFilled) {
    return {Held::State::kKnown, part != nullptr ? &kYesValue : &kNoValue};
  }
  if (part == nullptr) return {};
  const auto fact = part->facts.find(operand.attribute);
  if (fact == part->facts.end() || fact->second.standing == trade::Standing::kNotKnown) {
    return {Held::State::kNotKnown, nullptr};
  }
  return {Held::State::kKnown, &fact->second.value};
}

Judgement judge(const RuleForm& form, std::span<const Held> held) {
  return Judge(form, held).run();
}

SumLimit sum_limit(const RuleForm& form, std::span<const Held> held) {
  const Truth applies = Judge(form, held).applying();
  if (applies == Truth::kNo) return {};
  const auto most = number_in(held[form.right]);
  if (applies == Truth::kNotKnown || !most) return {SumLimit::Kind::kNotKnown, 0};
  return {SumLimit::Kind::kLimit, (*most - form.rule->offset) / form.rule->share};
}

}  // namespace rollwright::spec
