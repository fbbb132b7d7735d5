#pragma once

#include <map>
#include <optional>
#include <vector>

#include "spec/constraint.hpp"

namespace rollwright::spec {

/// A rule as a machine that reads one slot after another and ends at a verdict.
///
/// Two beginnings that leave the rule open in the same way lead to the same state, so that the
/// number of states says how much the rule really has to remember: a table of steerers forgets the
/// fork's maker at once. A beginning that settles the rule leads to its verdict at once.
class Machine {
 public:
  /// One step of reading: which place of the constraint is read, and what each class does.
  struct Reading {
    int place = 0;              // of the constraint
    /// That still occur there, ascending, at least one. A place with one class only is not read:
    /// it never takes a step.
    std::vector<int> classes;
  };

  /// States below this are verdicts, and final.
  static constexpr int kVerdicts = 5;
  [[nodiscard]] static bool is_final(int state) { return state < kVerdicts; }

  /// Reads `readings` in this order; verdicts worse than `worst` are all kDoesNotFit. Nothing when there are more than `most` combinations.
  [[nodiscard]] static std::optional<Machine> of(const Constraint& constraint,
                                                 std::vector<Reading> readings, int worst,
                                                 std::size_t most);

  [[nodiscard]] int start() const { return start_; }
  /// The state after `state` read class number `index` (in the reading's list). Not for finals.
  [[nodiscard]] int next(int state, int index) const {
    return next_[first_[static_cast<std::size_t>(state - kVerdicts)] +
                 static_cast<std::size_t>(index)];
  }
  [[nodiscard]] int states() const { return static_cast<int>(first_.size()); }

  /// For each of the `classes` of the reading at `depth` (counting those with one class too): the
  /// first class that does the same in every state. Classes that do the same are one to this rule.
  [[nodiscard]] std::vector<int> first_alike(std::size_t depth, std::size_t classes) const;

 private:
  int read(const Constraint& constraint, const std::vector<Reading>& readings, std::size_t depth,
           std::vector<int>& chosen);

  int worst_ = kVerdicts;
  int start_ = 0;
  std::vector<std::size_t> first_;  // by state less kVerdicts: its run in next_
  std::vector<int> next_;
  std::vector<std::size_t> depth_;  // by state less kVerdicts
  std::vector<std::map<std::vector<int>, int>> known_;  // by depth; emptied when built
};

}  // namespace rollwright::spec
