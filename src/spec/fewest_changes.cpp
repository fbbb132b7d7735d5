#include "spec/fewest_changes.hpp"

namespace rollwright::spec {

namespace {

FewestChanges with(const Situation& situation, Facts facts, trade::Verdict worst,
                   const std::vector<std::vector<Cost>>& costs, Budget& budget) {
  const Outlook outlook = outlook_of(situation, facts);
  BestBike best = best_bike({situation, outlook, static_cast<int>(worst), costs}, budget);
  return {.candidates = std::move(best.candidates),
          .changes = static_cast<int>(best.cost.first), .worst = worst,
          .price = best.cost.second, .proven = best.state != BestBike::State::kGaveUp};
}

}  // namespace

FewestChanges fewest_changes(const Situations& situations, std::span<const Fixed> choices,
                             Budget& budget) {
  auto costs =
      costs_by(situations.known, [](const Figure& figure) { return Cost{0, figure.price}; });
  for (const Fixed& choice : choices) {
    for (std::size_t i = 0; i < costs[at(choice.domain)].size(); ++i) {
      costs[at(choice.domain)][i].first = static_cast<int>(i) == choice.candidate ? 0 : 1;
    }
  }
  FewestChanges any{.proven = false};
  if (situations.possible) {
    any = with(*situations.possible, Facts::kAny, trade::Verdict::kNotKnown, costs, budget);
  }
  FewestChanges known =
      with(situations.known, Facts::kKnown, trade::Verdict::kFitsWithCare, costs, budget);
  const bool as_few = !known.candidates.empty() &&
                      (any.candidates.empty() || known.changes <= any.changes);
  const bool proven = any.proven && known.proven;
  FewestChanges& better = as_few ? known : any;
  better.proven = proven;
  return std::move(better);
}

}  // namespace rollwright::spec
