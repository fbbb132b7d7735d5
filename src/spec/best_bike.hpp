#pragma once

#include <optional>
#include <vector>

#include "spec/search.hpp"
#include "spec/situation.hpp"
#include "spec/sweep.hpp"

namespace rollwright::spec {

/// Which bike is wanted: the one whose costs add up to the least.
struct BikeQuestion {
  const Situation& situation;
  const Outlook& outlook;
  int level = 3;                         // the worst verdict that it may have
  std::vector<std::vector<Cost>> costs;  // by slot and candidate
  /// What one unit of the first sum is worth in costs, where somebody has found it already. Any
  /// worth gives right answers; a good one gives them sooner.
  std::optional<double> worth = {};
};

/// A good worth for questions like this one; nothing where no sum can be broken.
[[nodiscard]] std::optional<double> worth_of_amount(const BikeQuestion& question);

struct BestBike {
  enum class State { kFound, kNone, kGaveUp };
  State state = State::kNone;
  Cost cost;
  std::vector<int> candidates;  // by slot
};

/// The best complete bike of the situation.
///
/// Method:   without sums that could be broken, one sweep and one walk down the diagram. With them,
///           branch and bound down the slots: bounds are the least cost below, the least amount
///           below, and the least cost plus what the amount is worth (a Lagrange multiplier found
///           by bisection).
/// Accuracy: exact, or kGaveUp when the budget ended.
[[nodiscard]] BestBike best_bike(const BikeQuestion& question, Budget& budget);

/// Costs by slot and candidate from what `cost_of` says of a candidate's figure.
template <class CostOf>
[[nodiscard]] std::vector<std::vector<Cost>> costs_by(const Situation& situation, CostOf cost_of) {
  std::vector<std::vector<Cost>> costs;
  for (const auto& figures : situation.figures) {
    auto& own = costs.emplace_back();
    own.reserve(figures.size());
    for (const Figure& figure : figures) own.push_back(cost_of(figure));
  }
  return costs;
}

/// By slot and family: the best of what its usable candidates add. In a decided slot only the
/// chosen candidate counts.
template <class Reckoning, class ValueOf>
[[nodiscard]] std::vector<std::vector<typename Reckoning::Value>> best_of_families(
    const Situation& situation, const Outlook& outlook, ValueOf value_of) {
  std::vector<std::vector<typename Reckoning::Value>> own;
  for (int d = 0; d < situation.slots(); ++d) {
    const DiagramSlot& slot = situation.diagram.slots[at(d)];
    auto& values = own.emplace_back(slot.members.size(), Reckoning::kNone);
    for (int i = 0; i < static_cast<int>(slot.family_of.size()); ++i) {
      const int family = slot.family_of[at(i)];
      const int decided = situation.decided[at(d)];
      if (family < 0 || outlook.usable[at(d)][at(i)] == 0) continue;
      if (decided >= 0 && decided != i) continue;
      values[at(family)] = Reckoning::better(values[at(family)], value_of(d, i));
    }
  }
  return own;
}

}  // namespace rollwright::spec
