#include "plan/learned_clauses.hpp"

#include <algorithm>
#include <numeric>

namespace rollwright::plan {

LearnedClauses::LearnedClauses(const StartClaims& starts) {
  for (int i = 0; i < starts.activities(); ++i) {
    first_.push_back(static_cast<int>(activity_of_.size()));
    least_.push_back(starts.earliest(i));
    for (int v = starts.earliest(i); v < starts.latest(i); ++v) activity_of_.push_back(i);
  }
  watches_.resize(2 * activity_of_.size());
}

int LearnedClauses::number_of(Claim claim) const {
  if ((claim.side & 1) != 0) claim = denial_of(claim);
  const auto activity = static_cast<std::size_t>(claim.side / 2);
  return first_[activity] + claim.value - least_[activity] - 1;
}

Claim LearnedClauses::claim_of(int number) const {
  const int activity = activity_of_[static_cast<std::size_t>(number)];
  const auto i = static_cast<std::size_t>(activity);
  return starts_from(activity, number - first_[i] + least_[i] + 1);
}

std::vector<LearnedClauses::Watch>& LearnedClauses::watches_of(Claim claim) {
  return watches_[static_cast<std::size_t>(2 * number_of(claim) + (claim.side & 1))];
}

void LearnedClauses::watch(int clause) {
  const std::vector<Claim>& claims = clauses_[static_cast<std::size_t>(clause)].claims;
  watches_of(claims[0]).push_back({clause, claims[1]});
  watches_of(claims[1]).push_back({clause, claims[0]});
}

int LearnedClauses::add(std::vector<Claim> claims, int levels) {
  const int clause = static_cast<int>(clauses_.size());
  clauses_.push_back({std::move(claims), levels});
  watch(clause);
  return clause;
}

/// False when every claim of the clause fails. `keep` says whether it stays watched here.
bool LearnedClauses::visit(Watch& watch, Claim failed, StartClaims& starts, bool& keep) {
  keep = true;
  std::vector<Claim>& claims = clauses_[static_cast<std::size_t>(watch.clause)].claims;
  if (claims[0] == failed) std::swap(claims[0], claims[1]);
  watch.other = claims[0];
  if (starts.holds(claims[0])) return true;
  for (std::size_t at = 2; at < claims.size(); ++at) {
    if (starts.fails(claims[at])) continue;
    std::swap(claims[1], claims[at]);
    watches_of(claims[1]).push_back({watch.clause, claims[0]});
    keep = false;
    return true;
  }
  if (starts.fails(claims[0])) return false;
  starts.take(claims[0], {Because::Kind::kClause, watch.clause, 0});
  return true;
}

int LearnedClauses::follow(int step_index, StartClaims& starts) {
  const StartClaims::Step step = starts.step(step_index);
  for (int value = step.before + 1; value <= step.after; ++value) {
    const Claim failed = denial_of({step.side, value});
    std::vector<Watch>& watches = watches_of(failed);
    std::size_t kept = 0;
    int broken = -1;
    for (std::size_t at = 0; at < watches.size(); ++at) {
      Watch watch = watches[at];
      bool keep = true;
      if (broken < 0 && !starts.holds(watch.other) && !visit(watch, failed, starts, keep)) {
        broken = watch.clause;
      }
      if (keep) watches[kept++] = watch;
    }
    watches.resize(kept);
    if (broken >= 0) return broken;
  }
  return -1;
}

void LearnedClauses::forget_half() {
  std::stable_sort(clauses_.begin(), clauses_.end(), [](const Clause& a, const Clause& b) {
    return a.levels != b.levels ? a.levels < b.levels : a.claims.size() < b.claims.size();
  });
  std::size_t keep = clauses_.size() / 2;
  while (keep < clauses_.size() && clauses_[keep].levels <= 2) ++keep;
  clauses_.resize(keep);
  for (std::vector<Watch>& watches : watches_) watches.clear();
  for (std::size_t c = 0; c < clauses_.size(); ++c) watch(static_cast<int>(c));
}

}  // namespace rollwright::plan
