#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "plan/start_claims.hpp"

namespace rollwright::plan {

/// What a search has learned: of each clause at least one claim must hold.
///
/// Method:   two claims of each clause are watched; only when one of those fails is the clause
///           looked at (M. Moskewicz and others, DAC 2001, from memory).
/// Threads:  one per thread.
class LearnedClauses {
 public:
  /// `starts` as they are before any decision: it fixes which claims there can be.
  explicit LearnedClauses(const StartClaims& starts);

  /// Number of a claim "starts at v or later" among all there can be, from 0; a denial has the
  /// number of what it denies. Only for claims that neither held nor failed from the beginning.
  [[nodiscard]] int number_of(Claim claim) const;
  [[nodiscard]] int how_many_claims() const { return static_cast<int>(activity_of_.size()); }
  [[nodiscard]] Claim claim_of(int number) const;

  /// A clause of two claims or more; the first two are those that became open last.
  int add(std::vector<Claim> claims, int levels);
  [[nodiscard]] std::span<const Claim> claims(int clause) const {
    return clauses_[static_cast<std::size_t>(clause)].claims;
  }
  [[nodiscard]] std::size_t size() const { return clauses_.size(); }

  /// Follows up a step: takes what clauses force. Returns a clause all of whose claims fail, or -1.
  int follow(int step, StartClaims& starts);

  /// Forgets half of the clauses, those that spanned most levels when learned. Only while no
  /// decision is taken and no step refers to a clause.
  void forget_half();

 private:
  struct Clause {
    std::vector<Claim> claims;
    int levels = 0;
  };
  struct Watch {
    int clause = 0;
    Claim other;  // when this holds, the clause need not be looked at
  };
  [[nodiscard]] std::vector<Watch>& watches_of(Claim claim);
  void watch(int clause);
  bool visit(Watch& watch, Claim failed, StartClaims& starts, bool& keep);

  std::vector<int> first_;  // per activity: number of its first claim
  std::vector<int> least_;  // per activity: earliest start of all
  std::vector<int> activity_of_;
  std::vector<Clause> clauses_;
  std::vector<std::vector<Watch>> watches_;  // 2 * number, + 1 for a denial
};

}  // namespace rollwright::plan
