#include "spec/why_not.hpp"

#include <algorithm>

#include "base/index.hpp"
#include "spec/clash_sentence.hpp"
#include "spec/conflict.hpp"
#include "spec/harvest.hpp"

namespace rollwright::spec {

namespace {

/// One question: the members that may be to blame are the choices (by place) and, after them, the
/// rules. The asked part itself always holds.
class Blame {
 public:
  Blame(const Compiled& compiled, std::vector<Fixed> always, std::vector<Fixed> choices,
        Budget& budget)
      : compiled_(compiled), always_(std::move(always)), choices_(std::move(choices)),
        named_(choices_), budget_(budget) {
    named_.insert(named_.end(), always_.begin(), always_.end());
  }

  /// Explains the clash at this level. Nothing when there is none or the budget ended.
  Result<Clash> explain(trade::Verdict level) {
    level_ = level;
    const std::vector<int> all = both(choice_members(), rule_members());
    if (!clashes(all)) {
      return refuse(Code::kRefused, gave_up_ ? "the search ended before it could tell whether this "
                                               "is closed; allow it more steps"
                                             : "this is not closed: a complete bike exists");
    }
    gave_up_ = false;
    const std::vector<int> members = smaller_of_two();
    Clash clash = told(members);
    clash.part_matters = always_.empty() || !clashes_with(members, {});
    clash.irreducible = !gave_up_;
    return clash;
  }

 private:
  static std::vector<int> both(std::vector<int> a, const std::vector<int>& b) {
    a.insert(a.end(), b.begin(), b.end());
    return a;
  }

  [[nodiscard]] std::vector<int> choice_members() const {
    std::vector<int> members;
    for (std::size_t i = 0; i < choices_.size(); ++i) members.push_back(static_cast<int>(i));
    return members;
  }

  /// Rules that look at the asked slot come first, then by severity, then in the trade's order.
  [[nodiscard]] std::vector<int> rule_members() const {
    std::vector<int> rules;
    for (std::size_t c = 0; c < compiled_.constraints.size(); ++c) {
      rules.push_back(static_cast<int>(c));
    }
    const auto rank = [&](int c) {
      const Constraint& constraint = compiled_.constraints[at(c)];
      const bool direct = !always_.empty() &&
                          std::ranges::find(constraint.slots, always_[0].domain) !=
                              constraint.slots.end();
      return std::tuple(!direct, constraint.form.rule->severity, constraint.slots.size());
    };
    std::ranges::stable_sort(rules, {}, rank);
    for (int& rule : rules) rule += static_cast<int>(choices_.size());
    return rules;
  }

  [[nodiscard]] bool clashes(const std::vector<int>& members) {
    return clashes_with(members, always_);
  }

  [[nodiscard]] bool clashes_with(const std::vector<int>& members, std::vector<Fixed> fixed) {
    std::vector<char> enabled(compiled_.constraints.size(), 0);
    for (const int member : members) {
      const auto choice = at(member);
      if (choice < choices_.size()) {
        fixed.push_back(choices_[choice]);
      } else {
        enabled[choice - choices_.size()] = 1;
      }
    }
    Search search(compiled_, level_, budget_, &enabled);
    search.also_offer(named_);
    const std::optional<Bits> root = search.start(fixed);
    if (!root) return true;
    std::vector<int> solution;
    const Answer answer = search.complete(*root, Bits(compiled_.words, 0), solution);
    // A clash that is not proven is not claimed: the member under test stays in.
    gave_up_ |= answer == Answer::kGaveUp;
    return answer == Answer::kNo;
  }

  /// Preferring choices finds few rules, preferring rules finds few choices; the shorter story wins.
  [[nodiscard]] std::vector<int> smaller_of_two() {
    const auto test = [this](const std::vector<int>& members) { return clashes(members); };
    std::vector<int> few_rules =
        irreducible_conflict(both(choice_members(), rule_members()), test);
    std::vector<int> few_choices =
        irreducible_conflict(both(rule_members(), choice_members()), test);
    return few_rules.size() <= few_choices.size() ? few_rules : few_choices;
  }

  [[nodiscard]] Clash told(const std::vector<int>& members) const {
    Clash clash;
    std::vector<Fixed> fixed = always_;
    std::vector<int> rules;
    for (const int member : members) {
      const auto choice = at(member);
      if (choice < choices_.size()) {
        fixed.push_back(choices_[choice]);
      } else {
        rules.push_back(static_cast<int>(choice - choices_.size()));
      }
    }
    for (std::size_t i = always_.size(); i < fixed.size(); ++i) {
      const Domain& domain = compiled_.domains[at(fixed[i].domain)];
      const trade::Part* part = domain.parts[at(fixed[i].candidate)];
      clash.choices.push_back({domain.slot->id, part != nullptr ? part->id : trade::PartId()});
    }
    std::ranges::sort(clash.choices);
    for (const int rule : rules) clash.rules.push_back(clash_rule(compiled_, rule, fixed));
    std::ranges::stable_sort(clash.rules, [](const ClashRule& a, const ClashRule& b) {
      return std::tuple(!a.determined, a.severity) < std::tuple(!b.determined, b.severity);
    });
    if (members.empty()) clash.nothing_for = slots_that_nothing_fills();
    return clash;
  }

  [[nodiscard]] std::vector<trade::SlotId> slots_that_nothing_fills() const {
    std::vector<trade::SlotId> slots;
    for (const Domain& domain : compiled_.domains) {
      if (std::ranges::find(domain.offered, true) == domain.offered.end()) {
        slots.push_back(domain.slot->id);
      }
    }
    return slots;
  }

  const Compiled& compiled_;
  const std::vector<Fixed> always_;
  const std::vector<Fixed> choices_;
  std::vector<Fixed> named_;  // their parts count though they may be discontinued
  Budget& budget_;
  trade::Verdict level_ = trade::Verdict::kNotKnown;
  bool gave_up_ = false;
};

}  // namespace

Result<Clash> why_not(const Problem& problem, const Selection& selection, const WhyNot& question,
                      const ChoicesSettings& settings) {
  const Compiled& compiled = problem.compiled();
  Selection asked = selection;
  asked[question.slot] = question.part;
  const Result<std::vector<Fixed>> fixed = fixed_by(compiled, asked);
  if (!fixed) return std::unexpected(fixed.error());
  const int domain = compiled.domain_of.at(question.slot);
  std::vector<Fixed> part;
  std::vector<Fixed> choices;
  for (const Fixed& choice : *fixed) (choice.domain == domain ? part : choices).push_back(choice);
  Budget budget{.left = settings.most_steps};
  return Blame(compiled, part, choices, budget).explain(question.at_most);
}

Result<Clash> why_selection_clashes(const Problem& problem, const Selection& selection,
                                    const ChoicesSettings& settings) {
  const Compiled& compiled = problem.compiled();
  const Result<std::vector<Fixed>> fixed = fixed_by(compiled, selection);
  if (!fixed) return std::unexpected(fixed.error());
  Budget budget{.left = settings.most_steps};
  return Blame(compiled, {}, *fixed, budget).explain(trade::Verdict::kNotKnown);
}

}  // namespace rollwright::spec
