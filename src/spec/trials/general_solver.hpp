#pragma once

#include <memory>
#include <string>
#include <vector>

#include "spec/choices.hpp"
#include "spec/trials/enumeration.hpp"

namespace rollwright::spec::testing {

/// A second opinion on large catalogues: the question put to Z3, a general solver, in a formulation
/// of its own. One truth value for each slot and part; for every rule and level the combinations
/// that `evaluate` forbids, found by asking it about the rule's own slots; sums over many slots as
/// inequalities over whole milligrams. Shares no code with the room's own engines.
///
/// Threads: one. Exact; a time limit can end a question without an answer.
class GeneralSolver {
 public:
  /// `switchable`: rules can be left out of a question, which makes every question slower. The
  /// catalogue must outlive the solver.
  explicit GeneralSolver(const Catalogue& catalogue, bool switchable = false);
  ~GeneralSolver();
  GeneralSolver(const GeneralSolver&) = delete;
  GeneralSolver& operator=(const GeneralSolver&) = delete;

  enum class Answer { kNo, kYes, kGaveUp };
  struct Question {
    const Selection& selection;  // what the bike must contain
    const Selection& named;      // discontinued parts count only where this names them
    trade::Verdict at_most = trade::Verdict::kNotKnown;
    const std::vector<std::string>* rules = nullptr;  // names of those that count; null: all
  };
  /// Whether a complete bike exists on which no rule is worse. kYes: `parts()` is one.
  [[nodiscard]] Answer exists(const Question& question);
  /// By slot of slots_of(catalogue); null: left empty.
  [[nodiscard]] const std::vector<const trade::Part*>& parts() const;
  /// Status of the best complete bike that contains the selection; kNotProven when time ran out.
  [[nodiscard]] Status status(const Selection& selection, const Selection& named);

  /// Whether such a bike exists that costs at most this, or counts as no heavier than this.
  [[nodiscard]] Answer exists_within(const Question& question, Money most);
  [[nodiscard]] Answer exists_within(const Question& question, int masses_not_known,
                                     std::int64_t milligrams);

  /// Rules that could not be put in these terms: none, or the opinion is worth nothing.
  [[nodiscard]] const std::vector<std::string>& left_out() const;
  /// For each question; 0: none.
  void set_time_limit(unsigned milliseconds);

 private:
  class Formulation;
  std::unique_ptr<Formulation> formulation_;
};

}  // namespace rollwright::spec::testing
