#pragma once

#include "spec/trials/brute_force.hpp"
#include "spec/trials/general_solver.hpp"
#include "spec/why_not.hpp"

namespace rollwright::spec::testing {

struct Sampling {
  int status_every = 1;  // every n-th part of every slot
  int best_every = 20;   // every n-th open part's price and mass; 0: none
};

/// What the general solver says of the answers about one selection. Questions that it gave up on
/// are counted, and nothing is said of them.
struct SolverComparison {
  Comparison statuses;
  Comparison prices;
  Comparison masses;
  long long gave_up = 0;

  void add(const SolverComparison& other, const std::string& where);
  [[nodiscard]] long long compared() const;
  [[nodiscard]] std::vector<std::string> mismatches() const;
};

/// A best price holds when a bike at that price exists and none for a cent less; masses likewise.
/// Every bike that the solver finds is itself put to `evaluate`.
[[nodiscard]] SolverComparison compare_with_solver(const Catalogue& catalogue,
                                                   GeneralSolver& solver, const Problem& problem,
                                                   const Selection& selection,
                                                   const Sampling& sampling = {});

/// Whether a clash holds, and ceases to hold without any one of its members.
struct ClashCheck {
  bool clashes = true;
  bool reducible = false;
  bool gave_up = false;
};
/// `exists(selection, rules)` says whether a bike as good as asked contains the selection when only
/// these rules count: an Enumeration or a switchable GeneralSolver.
template <class Exists>
[[nodiscard]] ClashCheck check_clash(const Clash& clash, const SlotPart& asked,
                                     const Exists& exists) {
  using Answer = GeneralSolver::Answer;
  std::vector<std::string> rules;
  for (const ClashRule& rule : clash.rules) rules.push_back(rule.rule);
  Selection selection;
  for (const SlotPart& choice : clash.choices) selection[choice.slot] = choice.part;
  Selection whole = selection;
  if (clash.part_matters) whole[asked.slot] = asked.part;
  const Answer together = exists(whole, rules);
  ClashCheck check{.clashes = together != Answer::kYes, .gave_up = together == Answer::kGaveUp};
  const auto must_open = [&](const Selection& rest, const std::vector<std::string>& kept) {
    const Answer answer = exists(rest, kept);
    check.reducible |= answer == Answer::kNo;
    check.gave_up |= answer == Answer::kGaveUp;
  };
  if (clash.part_matters) must_open(selection, rules);
  for (const SlotPart& choice : clash.choices) {
    Selection rest = whole;
    rest.erase(choice.slot);
    must_open(rest, rules);
  }
  for (std::size_t i = 0; i < rules.size(); ++i) {
    std::vector<std::string> kept = rules;
    kept.erase(kept.begin() + static_cast<long>(i));
    must_open(whole, kept);
  }
  return check;
}

}  // namespace rollwright::spec::testing
