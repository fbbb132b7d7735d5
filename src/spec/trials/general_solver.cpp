#include "spec/trials/general_solver.hpp"

#include <z3++.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numeric>
#include <set>

#include "base/index.hpp"
#include "spec/evaluate.hpp"

namespace rollwright::spec::testing {

namespace {

using trade::Operand;
using trade::Verdict;

/// More combinations of values than this are not listed one by one.
constexpr std::size_t kMostCombinations = 60000;
constexpr int kLevels = 4;

/// The parts of one slot that state the same of everything that one rule asks.
struct ValueClass {
  const trade::Part* sample = nullptr;
  std::vector<int> candidates;
};

/// What a rule asks of each slot.
std::map<trade::SlotId, std::set<std::string>> asked(const trade::Trade& trade,
                                                     const trade::Rule& rule) {
  std::map<trade::SlotId, std::set<std::string>> attributes;
  const auto ask = [&](const Operand& operand) {
    if (operand.is_literal()) return;
    if (operand.slot.text != "*") {
      attributes[operand.slot].insert(operand.attribute);
      return;
    }
    for (const trade::Slot& slot : trade.slots) attributes[slot.id].insert(operand.attribute);
  };
  for (const trade::Condition& condition : rule.conditions) ask(condition.operand);
  for (const auto* operands : {&rule.left, &rule.right, &rule.terms}) {
    std::ranges::for_each(*operands, ask);
  }
  for (const trade::SlotId& slot : rule.slots) attributes[slot].insert("*filled");
  return attributes;
}

/// What is said of a part: whether there is one, and the values, absent where not known.
using Stated = std::pair<bool, std::vector<std::optional<trade::Value>>>;
Stated stated(const trade::Part* part, const std::set<std::string>& attributes) {
  Stated all{part != nullptr, {}};
  if (part == nullptr) return all;
  for (const std::string& attribute : attributes) {
    const trade::Fact* fact = trade::fact_of(*part, attribute);
    all.second.push_back(fact != nullptr ? std::optional(fact->value) : std::nullopt);
  }
  return all;
}

std::int64_t millionths(double value) { return std::llround(value * 1e6); }

}  // namespace

class GeneralSolver::Formulation {
 public:
  Formulation(const Catalogue& catalogue, bool switchable)
      : catalogue_(catalogue), switchable_(switchable), solver_(context_, "QF_FD") {
    name_slots();
    for (int level = 0; level < kLevels; ++level) {
      levels_.push_back(context_.bool_const(("level" + std::to_string(level)).c_str()));
      if (level > 0) solver_.add(z3::implies(levels_[at(level - 1)], levels_[at(level)]));
    }
    for (const trade::Rule& rule : catalogue.trade.rules) add_rule(rule);
  }

  Answer exists(const Question& question) {
    z3::expr_vector assumptions(context_);
    assume(question, assumptions);
    const z3::check_result result = solver_.check(assumptions);
    if (result == z3::unknown) return Answer::kGaveUp;
    if (result == z3::unsat) return Answer::kNo;
    read_parts();
    return Answer::kYes;
  }

  template <class Limit>
  Answer exists_with(const Question& question, const Limit& limit) {
    solver_.push();
    solver_.add(limit());
    const Answer answer = exists(question);
    solver_.pop();
    return answer;
  }

  z3::expr costs_at_most(std::int64_t cents) {
    return sum_at_most(cents, [](const trade::Part& part, int pieces) {
      return pieces * part.price.cents;
    });
  }
  z3::expr weighs_at_most(std::int64_t milligrams) {
    return sum_at_most(milligrams, [](const trade::Part& part, int pieces) {
      const auto mass = trade::mass_of(part);
      return mass ? pieces * milligrams_of(*mass) : std::int64_t{0};
    });
  }
  z3::expr lacks_at_most(int masses) {
    return sum_at_most(masses, [](const trade::Part& part, int pieces) {
      return std::int64_t{trade::mass_of(part) ? 0 : pieces};
    });
  }

  [[nodiscard]] const std::vector<const trade::Part*>& parts() const { return parts_; }
  [[nodiscard]] const std::vector<std::string>& left_out() const { return left_out_; }
  void set_time_limit(unsigned milliseconds) {
    z3::params params(context_);
    params.set("timeout", milliseconds == 0 ? 4294967295u : milliseconds);
    solver_.set(params);
  }

 private:
  void name_slots() {
    for (const trade::Slot* slot : slots_of(catalogue_)) {
      slot_number_.emplace(slot->id, static_cast<int>(slots_.size()));
      slots_.push_back(slot);
      candidates_.push_back(candidates_for(catalogue_, slot->id));
      z3::expr_vector in_slot(context_);
      auto& own = literals_.emplace_back();
      for (const trade::Part* part : candidates_.back()) {
        const std::string name = slot->id.text + "/" + (part != nullptr ? part->id.text : "none");
        own.push_back(context_.bool_const(name.c_str()));
        in_slot.push_back(own.back());
      }
      if (in_slot.empty()) {
        solver_.add(context_.bool_val(false));
        continue;
      }
      const std::vector<int> ones(in_slot.size(), 1);
      solver_.add(z3::mk_or(in_slot));
      solver_.add(z3::pble(in_slot, ones.data(), 1));
    }
  }

  std::vector<ValueClass> classes_of(int slot, const std::set<std::string>& attributes) const {
    std::map<Stated, ValueClass> classes;
    const auto& candidates = candidates_[at(slot)];
    for (std::size_t i = 0; i < candidates.size(); ++i) {
      ValueClass& own = classes[stated(candidates[i], attributes)];
      if (own.candidates.empty()) own.sample = candidates[i];
      own.candidates.push_back(static_cast<int>(i));
    }
    std::vector<ValueClass> list;
    for (auto& [values, own] : classes) list.push_back(std::move(own));
    return list;
  }

  /// True when the slot's part is one of these.
  z3::expr one_of(int slot, const std::vector<int>& candidates) {
    const auto& own = literals_[at(slot)];
    if (candidates.size() == 1) return own[at(candidates[0])];
    if (candidates.size() == own.size()) return context_.bool_val(true);
    const auto known = classes_.find({slot, candidates});
    if (known != classes_.end()) return known->second;
    const std::string name = "class" + std::to_string(classes_.size());
    const z3::expr literal = context_.bool_const(name.c_str());
    z3::expr_vector any(context_);
    for (const int candidate : candidates) any.push_back(own[at(candidate)]);
    solver_.add(literal == z3::mk_or(any));
    classes_.emplace(std::pair(slot, candidates), literal);
    return literal;
  }

  struct RuleSlots {
    std::vector<int> slots;
    std::vector<std::vector<ValueClass>> classes;

    [[nodiscard]] std::size_t combinations() const {
      std::size_t product = 1;
      for (const auto& own : classes) {
        product = own.empty() ? 0 : std::min(product * own.size(), kMostCombinations + 1);
      }
      return product;
    }
  };
  RuleSlots slots_asked(const trade::Rule& rule) const {
    RuleSlots all;
    for (const auto& [id, attributes] : asked(catalogue_.trade, rule)) {
      const auto number = slot_number_.find(id);
      if (number == slot_number_.end()) continue;
      all.slots.push_back(number->second);
      all.classes.push_back(classes_of(number->second, attributes));
    }
    return all;
  }

  void add_rule(const trade::Rule& rule) {
    off_.clear();
    if (switchable_) {
      const z3::expr on = context_.bool_const(("on " + rule.name()).c_str());
      off_.push_back(!on);
      on_.emplace(rule.name(), on);
    }
    const RuleSlots all = slots_asked(rule);
    if (all.combinations() <= kMostCombinations) {
      list(all, [&](const Bike& bike, const std::vector<z3::expr>& differs) {
        forbid(evaluate(catalogue_.trade, rule, bike).verdict, differs);
      });
    } else if (rule.shape == trade::RuleShape::kSum) {
      add_sum(rule);
    } else {
      left_out_.push_back(rule.name());
    }
  }

  /// Calls `tell` with every combination of values, as a bike of these slots alone and as literals
  /// one of which is true of every other combination.
  template <class Tell>
  void list(const RuleSlots& all, const Tell& tell) {
    if (all.combinations() == 0) return;
    std::vector<std::vector<z3::expr>> literals;
    for (std::size_t i = 0; i < all.slots.size(); ++i) {
      auto& own = literals.emplace_back();
      for (const ValueClass& one : all.classes[i]) {
        own.push_back(one_of(all.slots[i], one.candidates));
      }
    }
    std::vector<std::size_t> combination(all.slots.size(), 0);
    while (true) {
      Bike bike{.order = catalogue_.order, .rider = catalogue_.rider};
      std::vector<z3::expr> differs;
      for (std::size_t i = 0; i < combination.size(); ++i) {
        const trade::Part* sample = all.classes[i][combination[i]].sample;
        if (sample != nullptr) bike.parts[slots_[at(all.slots[i])]->id] = sample;
        differs.push_back(!literals[i][combination[i]]);
      }
      tell(bike, differs);
      std::size_t place = 0;
      while (place < combination.size() && ++combination[place] == all.classes[place].size()) {
        combination[place++] = 0;
      }
      if (place == combination.size()) return;
    }
  }

  void add_clause(const std::vector<z3::expr>& literals) {
    z3::expr_vector clause(context_);
    for (const z3::expr& literal : literals) clause.push_back(literal);
    for (const z3::expr& literal : off_) clause.push_back(literal);
    solver_.add(z3::mk_or(clause));
  }
  /// On bikes of every level better than the verdict, one of the literals is true.
  void forbid(Verdict verdict, std::vector<z3::expr> literals) {
    if (verdict == Verdict::kFits) return;
    const int worst_level = static_cast<int>(verdict) - 1;
    if (worst_level < kLevels - 1) literals.push_back(!levels_[at(worst_level)]);
    add_clause(literals);
  }

  /// What each candidate adds to a sum in millionths, and which of them are not known.
  struct Addends {
    std::map<std::pair<int, int>, std::int64_t> known;
    std::set<std::pair<int, int>> not_known;
    double fixed = 0;
    bool fixed_known = true;
  };
  void add_term(const Operand& term, int factor, Addends& addends) const {
    const auto number = slot_number_.find(term.slot);
    if (number == slot_number_.end()) {
      const bool is_order = term.slot.text == "order";
      if (term.is_literal()) {
        addends.fixed += factor * std::get<double>(term.literal);
      } else if (is_order || term.slot.text == "rider") {
        const trade::Part& pseudo = is_order ? catalogue_.order : catalogue_.rider;
        const auto value = trade::number_of(pseudo, term.attribute);
        addends.fixed += factor * value.value_or(0);
        addends.fixed_known &= value.has_value();
      }
      return;
    }
    const auto& candidates = candidates_[at(number->second)];
    for (std::size_t i = 0; i < candidates.size(); ++i) {
      if (candidates[i] == nullptr) continue;
      const std::pair key(number->second, static_cast<int>(i));
      const auto value = trade::number_of(*candidates[i], term.attribute);
      if (value) addends.known[key] += factor * millionths(*value);
      if (!value) addends.not_known.insert(key);
    }
  }
  Addends addends_of(const trade::Rule& rule) const {
    Addends addends;
    for (const Operand& term : rule.terms) {
      if (term.slot.text != "*") {
        add_term(term, 1, addends);
        continue;
      }
      for (const trade::Slot& slot : catalogue_.trade.slots) {
        add_term({slot.id, term.attribute, {}}, slot.quantity, addends);
      }
    }
    return addends;
  }

  /// A sum over many slots: an inequality for every combination of what sets its limit.
  void add_sum(const trade::Rule& rule) {
    trade::Rule limit_alone = rule;
    limit_alone.terms = {Operand{.literal = 0.0}};
    const RuleSlots guards = slots_asked(limit_alone);
    if (guards.combinations() > kMostCombinations) {
      left_out_.push_back(rule.name());
      return;
    }
    const Addends addends = addends_of(rule);
    list(guards, [&](const Bike& bike, const std::vector<z3::expr>& differs) {
      const Outcome outcome = evaluate(catalogue_.trade, limit_alone, bike);
      if (!outcome.applies) return;
      if (outcome.verdict == Verdict::kNotKnown) return forbid(Verdict::kNotKnown, differs);
      limit_sum(rule, addends, limit_of(rule, bike), differs);
    });
  }
  static double limit_of(const trade::Rule& rule, const Bike& bike) {
    const Operand& right = rule.right[0];
    if (right.is_literal()) return std::get<double>(right.literal);
    return trade::number_of(*bike.part_in(right.slot), right.attribute).value();
  }
  void limit_sum(const trade::Rule& rule, const Addends& addends, double limit,
                 const std::vector<z3::expr>& differs) {
    const std::int64_t most = millionths((limit - rule.offset) / rule.share - addends.fixed);
    const z3::expr keeps = sum_of(addends.known, most);
    const bool is_claim = rule.severity == trade::Severity::kClaim;
    const auto with = [&](const z3::expr& literal) {
      std::vector<z3::expr> literals = differs;
      literals.push_back(literal);
      return literals;
    };
    forbid(is_claim ? Verdict::kFitsWithCare : Verdict::kDoesNotFit, with(keeps));
    // Too great already is worse than not known, save that a CLAIM then asks only for care.
    std::vector<z3::expr> unless = is_claim ? with(!keeps) : differs;
    if (!addends.fixed_known) return forbid(Verdict::kNotKnown, unless);
    for (const auto& [slot, candidate] : addends.not_known) {
      unless.push_back(!literals_[at(slot)][at(candidate)]);
      forbid(Verdict::kNotKnown, unless);
      unless.pop_back();
    }
  }

  /// Coefficients divided by what they have in common; the limit rounds down.
  z3::expr sum_of(const std::map<std::pair<int, int>, std::int64_t>& addends, std::int64_t most) {
    if (most < 0) return context_.bool_val(false);
    std::int64_t common = 0;
    for (const auto& [key, amount] : addends) common = std::gcd(common, amount);
    if (common == 0) return context_.bool_val(true);
    z3::expr_vector literals(context_);
    std::vector<int> amounts;
    for (const auto& [key, amount] : addends) {
      if (amount == 0) continue;
      literals.push_back(literals_[at(key.first)][at(key.second)]);
      amounts.push_back(static_cast<int>(amount / common));
    }
    return z3::pble(literals, amounts.data(), static_cast<int>(most / common));
  }
  template <class Amount>
  z3::expr sum_at_most(std::int64_t most, const Amount& amount) {
    std::map<std::pair<int, int>, std::int64_t> addends;
    for (std::size_t s = 0; s < slots_.size(); ++s) {
      for (std::size_t i = 0; i < candidates_[s].size(); ++i) {
        const trade::Part* part = candidates_[s][i];
        if (part == nullptr) continue;
        addends[{static_cast<int>(s), static_cast<int>(i)}] = amount(*part, slots_[s]->quantity);
      }
    }
    return sum_of(addends, most);
  }

  void assume(const Question& question, z3::expr_vector& assumptions) {
    assumptions.push_back(levels_[static_cast<std::size_t>(question.at_most)]);
    for (std::size_t s = 0; s < slots_.size(); ++s) {
      const auto chosen = question.selection.find(slots_[s]->id);
      const auto named = question.named.find(slots_[s]->id);
      for (std::size_t i = 0; i < candidates_[s].size(); ++i) {
        const trade::Part* part = candidates_[s][i];
        const trade::PartId id = part != nullptr ? part->id : trade::PartId();
        if (chosen != question.selection.end() && chosen->second == id) {
          assumptions.push_back(literals_[s][i]);
        }
        const bool is_named = named != question.named.end() && named->second == id;
        if (part != nullptr && part->gone && !is_named) assumptions.push_back(!literals_[s][i]);
      }
    }
    for (const auto& [name, on] : on_) {
      const bool counts = question.rules == nullptr ||
                          std::ranges::find(*question.rules, name) != question.rules->end();
      assumptions.push_back(counts ? on : !on);
    }
  }

  void read_parts() {
    const z3::model model = solver_.get_model();
    parts_.assign(slots_.size(), nullptr);
    for (std::size_t s = 0; s < slots_.size(); ++s) {
      for (std::size_t i = 0; i < candidates_[s].size(); ++i) {
        if (model.eval(literals_[s][i], true).is_true()) parts_[s] = candidates_[s][i];
      }
    }
  }

  const Catalogue& catalogue_;
  const bool switchable_;
  z3::context context_;
  z3::solver solver_;
  std::vector<const trade::Slot*> slots_;
  std::map<trade::SlotId, int> slot_number_;
  std::vector<std::vector<const trade::Part*>> candidates_;
  std::vector<std::vector<z3::expr>> literals_;  // by slot and candidate
  std::vector<z3::expr> levels_;
  std::map<std::pair<int, std::vector<int>>, z3::expr> classes_;
  std::vector<z3::expr> off_;           // of the rule at hand: true when it does not count
  std::map<std::string, z3::expr> on_;  // by rule, when they can be left out
  std::vector<std::string> left_out_;
  std::vector<const trade::Part*> parts_;
};

GeneralSolver::GeneralSolver(const Catalogue& catalogue, bool switchable)
    : formulation_(std::make_unique<Formulation>(catalogue, switchable)) {}
GeneralSolver::~GeneralSolver() = default;

GeneralSolver::Answer GeneralSolver::exists(const Question& question) {
  return formulation_->exists(question);
}

const std::vector<const trade::Part*>& GeneralSolver::parts() const {
  return formulation_->parts();
}

Status GeneralSolver::status(const Selection& selection, const Selection& named) {
  for (const Verdict level : {Verdict::kFits, Verdict::kFitsWith, Verdict::kFitsWithCare,
                              Verdict::kNotKnown}) {
    switch (exists({selection, named, level})) {
      case Answer::kYes: return static_cast<Status>(level);
      case Answer::kGaveUp: return Status::kNotProven;
      case Answer::kNo: break;
    }
  }
  return Status::kClosed;
}

GeneralSolver::Answer GeneralSolver::exists_within(const Question& question, Money most) {
  return formulation_->exists_with(question,
                                   [&] { return formulation_->costs_at_most(most.cents); });
}

GeneralSolver::Answer GeneralSolver::exists_within(const Question& question, int masses_not_known,
                                                   std::int64_t milligrams) {
  Formulation& f = *formulation_;
  return f.exists_with(question, [&] {
    const z3::expr no_heavier =
        f.lacks_at_most(masses_not_known) && f.weighs_at_most(milligrams);
    if (masses_not_known == 0) return no_heavier;
    return f.lacks_at_most(masses_not_known - 1) || no_heavier;
  });
}

const std::vector<std::string>& GeneralSolver::left_out() const {
  return formulation_->left_out();
}

void GeneralSolver::set_time_limit(unsigned milliseconds) {
  formulation_->set_time_limit(milliseconds);
}

}  // namespace rollwright::spec::testing
