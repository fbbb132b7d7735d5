#include "spec/trials/solver_comparison.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "spec/evaluate.hpp"

namespace rollwright::spec::testing {

using trade::Verdict;
using Answer = GeneralSolver::Answer;

namespace {

class Comparing {
 public:
  Comparing(const Catalogue& catalogue, GeneralSolver& solver, const Selection& selection)
      : catalogue_(catalogue), solver_(solver), selection_(selection) {}

  SolverComparison run(const Problem& problem, const Sampling& sampling) {
    const auto answer = choices(problem, selection_, {.arrivals = &catalogue_.arrivals});
    result_.statuses.expect(answer.has_value(), "choices refused");
    if (!answer) return result_;
    compare_status(selection_, answer->selection, "the selection");
    int number = 0;
    int open = 0;
    for (const SlotChoices& slot : answer->slots) {
      Selection others = others_of(*answer, slot.slot);
      for (const PartChoice& part : slot.parts) {
        others[slot.slot] = part.part;
        const std::string name = slot.slot.text + " " + part.part.text;
        if (number++ % sampling.status_every == 0) compare_status(others, part.status, name);
        if (sampling.best_every == 0 || part.status >= Status::kClosed) continue;
        if (open++ % sampling.best_every == 0) compare_best(others, part, name);
      }
    }
    return std::move(result_);
  }

 private:
  Selection others_of(const Choices& answer, const trade::SlotId& slot) {
    Selection others = selection_;
    others.erase(slot);
    const bool clashes = answer.selection == Status::kClosed &&
                         solver_.status(others, selection_) == Status::kClosed;
    if (!clashes) return others;
    for (const SlotPart& aside : answer.set_aside) others.erase(aside.slot);
    return others;
  }

  void compare_status(const Selection& asked, Status ours, const std::string& name) {
    const Status right = solver_.status(asked, selection_);
    if (right == Status::kNotProven || ours == Status::kNotProven) {
      ++result_.gave_up;
      return;
    }
    result_.statuses.expect(ours == right, fmt::format("{} is {}; by the solver {}", name,
                                                       word_of(ours), word_of(right)));
    if (right == Status::kClosed) return;
    result_.statuses.expect(worst() == static_cast<Verdict>(right),
                            name + ": the solver's own bike is not what it says");
  }
  [[nodiscard]] Verdict worst() const {
    Bike bike{.order = catalogue_.order, .rider = catalogue_.rider};
    const auto slots = slots_of(catalogue_);
    for (std::size_t s = 0; s < slots.size(); ++s) {
      if (solver_.parts()[s] != nullptr) bike.parts[slots[s]->id] = solver_.parts()[s];
    }
    Verdict worst = Verdict::kFits;
    for (const trade::Rule& rule : catalogue_.trade.rules) {
      worst = std::max(worst, evaluate(catalogue_.trade, rule, bike).verdict);
    }
    return worst;
  }

  void compare_best(const Selection& asked, const PartChoice& part, const std::string& name) {
    const Verdict level = part.status == Status::kNotKnown ? Verdict::kNotKnown
                                                           : Verdict::kFitsWithCare;
    const GeneralSolver::Question question{asked, selection_, level};
    const auto judge = [&](Comparison& comparison, Answer there, Answer better,
                           const std::string& what) {
      if (there == Answer::kGaveUp || better == Answer::kGaveUp) {
        ++result_.gave_up;
        return;
      }
      comparison.expect(there == Answer::kYes && better == Answer::kNo,
                        fmt::format("{} of {}: {}", what, name,
                                    there == Answer::kNo ? "no such bike" : "a better one exists"));
    };
    if (!part.best.proven || !part.best.price || !part.best.mass) {
      ++result_.gave_up;
      return;
    }
    const Money price = *part.best.price;
    judge(result_.prices, solver_.exists_within(question, price),
          solver_.exists_within(question, price - Money{1}), "price");
    const int lacking = part.best.masses_not_known;
    const std::int64_t mass = milligrams_of(*part.best.mass);
    judge(result_.masses, solver_.exists_within(question, lacking, mass),
          solver_.exists_within(question, lacking, mass - 1), "mass");
  }

  const Catalogue& catalogue_;
  GeneralSolver& solver_;
  const Selection& selection_;
  SolverComparison result_;
};

}  // namespace

void SolverComparison::add(const SolverComparison& other, const std::string& where) {
  statuses.add(other.statuses, where);
  prices.add(other.prices, where);
  masses.add(other.masses, where);
  gave_up += other.gave_up;
}

long long SolverComparison::compared() const {
  return statuses.compared + prices.compared + masses.compared;
}

std::vector<std::string> SolverComparison::mismatches() const {
  std::vector<std::string> all = statuses.mismatches;
  for (const Comparison* one : {&prices, &masses}) {
    all.insert(all.end(), one->mismatches.begin(), one->mismatches.end());
  }
  return all;
}

SolverComparison compare_with_solver(const Catalogue& catalogue, GeneralSolver& solver,
                                     const Problem& problem, const Selection& selection,
                                     const Sampling& sampling) {
  return Comparing(catalogue, solver, selection).run(problem, sampling);
}

}  // namespace rollwright::spec::testing
