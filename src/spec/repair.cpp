#include "spec/repair.hpp"

#include <algorithm>
#include <deque>
#include <set>

#include "spec/completion.hpp"
#include "spec/fewest_changes.hpp"

namespace rollwright::spec {

namespace {

/// Looks for sets of slots whose choices have to be changed, the smallest first.
///
/// Method: the best answer first; then, for each slot that it changes, the best answer that leaves
/// that slot alone, and so on (branching as for the k best solutions). An answer that changes all
/// that an earlier one does, and more, is not told.
class Mending {
  static constexpr std::size_t kMostTried = 200;

 public:
  Mending(const Compiled& compiled, std::vector<Fixed> always, std::vector<Fixed> choices,
          const RepairSettings& settings)
      : compiled_(compiled), always_(std::move(always)), choices_(std::move(choices)),
        settings_(settings), budget_{.left = settings.search.most_steps} {
    if (settings.gone_stays) named_ = choices_;
    named_.insert(named_.end(), always_.begin(), always_.end());
  }

  Result<std::vector<Repair>> run() {
    consider({});
    std::vector<Repair> answers;
    while (!waiting_.empty() && answers.size() < at(std::max(settings_.most, 1)) &&
           tried_.size() < kMostTried) {
      const auto best = std::ranges::min_element(waiting_);
      const Waiting next = *best;
      waiting_.erase(best);
      if (!covers_an_earlier(next.changed)) {
        told_.push_back(next.changed);
        answers.push_back(told(next));
      }
      for (const int slot : next.changed) {
        std::set<int> kept = next.kept;
        kept.insert(slot);
        consider(std::move(kept));
      }
    }
    if (!answers.empty()) return answers;
    return refuse(Code::kRefused, gave_up_ ? "the search ended before it found a way to mend this"
                                           : "no complete bike exists, whatever is changed");
  }

 private:
  struct Waiting {
    int changes = 0;
    trade::Verdict worst = trade::Verdict::kFits;
    std::int64_t price = 0;
    std::set<int> changed;  // slots
    std::set<int> kept;     // slots that were to be left alone
    std::vector<int> candidates;
    friend auto operator<=>(const Waiting&, const Waiting&) = default;
  };

  /// The best answer that leaves these slots alone.
  void consider(std::set<int> kept) {
    if (!tried_.insert(kept).second) return;
    std::vector<Fixed> decided = always_;
    for (const Fixed& choice : choices_) {
      if (kept.contains(choice.domain)) decided.push_back(choice);
    }
    const FewestChanges best = fewest_changes(situations_with(decided), choices_, budget_);
    gave_up_ |= !best.proven;
    if (best.candidates.empty()) return;
    Waiting found{.changes = best.changes, .worst = best.worst, .price = best.price,
                  .changed = {}, .kept = std::move(kept), .candidates = best.candidates};
    for (const Fixed& choice : choices_) {
      if (best.candidates[at(choice.domain)] != choice.candidate) {
        found.changed.insert(choice.domain);
      }
    }
    waiting_.push_back(std::move(found));
  }

  [[nodiscard]] Situations situations_with(const std::vector<Fixed>& decided) const {
    return situations_of(compiled_, decided, named_, settings_.search.arrivals);
  }

  [[nodiscard]] bool covers_an_earlier(const std::set<int>& changed) const {
    return std::ranges::any_of(told_, [&](const std::set<int>& earlier) {
      return std::ranges::includes(changed, earlier);
    });
  }

  [[nodiscard]] Repair told(const Waiting& answer) const {
    Repair repair;
    const auto id_of = [&](int d, int candidate) {
      const trade::Part* part = compiled_.domains[at(d)].parts[at(candidate)];
      return part != nullptr ? part->id : trade::PartId();
    };
    for (const Fixed& choice : choices_) {
      if (!answer.changed.contains(choice.domain)) continue;
      const int to = answer.candidates[at(choice.domain)];
      repair.changes.push_back({compiled_.domains[at(choice.domain)].slot->id,
                                id_of(choice.domain, choice.candidate), id_of(choice.domain, to)});
    }
    repair.bike = completion_of(situations_with({}).known, answer.candidates);
    repair.bike.proven = !gave_up_;
    return repair;
  }

  const Compiled& compiled_;
  const std::vector<Fixed> always_;
  const std::vector<Fixed> choices_;
  const RepairSettings& settings_;
  std::vector<Fixed> named_;
  Budget budget_;
  std::deque<Waiting> waiting_;
  std::set<std::set<int>> tried_;
  std::vector<std::set<int>> told_;
  bool gave_up_ = false;
};

std::unexpected<Error> too_loose() {
  return refuse(Code::kRefused, "this catalogue is too loose to look for changes");
}

}  // namespace

Result<std::vector<Repair>> repairs(const Problem& problem, const Selection& selection,
                                    const RepairSettings& settings) {
  const Compiled& compiled = problem.compiled();
  const Result<std::vector<Fixed>> fixed = fixed_by(compiled, selection);
  if (!fixed) return std::unexpected(fixed.error());
  if (compiled.known == nullptr) return too_loose();
  return Mending(compiled, {}, *fixed, settings).run();
}

Result<std::vector<Repair>> openings(const Problem& problem, const Selection& selection,
                                     const SlotPart& wanted, const RepairSettings& settings) {
  const Compiled& compiled = problem.compiled();
  Selection asked = selection;
  asked[wanted.slot] = wanted.part;
  const Result<std::vector<Fixed>> fixed = fixed_by(compiled, asked);
  if (!fixed) return std::unexpected(fixed.error());
  if (compiled.known == nullptr) return too_loose();
  const int domain = compiled.domain_of.at(wanted.slot);
  std::vector<Fixed> always;
  std::vector<Fixed> choices;
  for (const Fixed& choice : *fixed) {
    (choice.domain == domain ? always : choices).push_back(choice);
  }
  return Mending(compiled, std::move(always), std::move(choices), settings).run();
}

}  // namespace rollwright::spec
