#include "spec/completion.hpp"

#include <algorithm>

#include "base/index.hpp"

namespace rollwright::spec {

namespace {

trade::Verdict worst_of(const Compiled& compiled, std::span<const int> candidates) {
  trade::Verdict worst = trade::Verdict::kFits;
  std::vector<int> classes;
  for (const Constraint& constraint : compiled.constraints) {
    classes.clear();
    for (std::size_t place = 0; place < constraint.slots.size(); ++place) {
      const int d = constraint.slots[place];
      const int group = compiled.domains[at(d)].group_of[at(candidates[at(d)])];
      classes.push_back(constraint.class_of[place][at(group)]);
    }
    worst = std::max(worst, constraint.verdict(classes));
  }
  return worst;
}

}  // namespace

Completion completion_of(const Situation& situation, std::span<const int> candidates) {
  Completion bike;
  std::int64_t mass = 0;
  std::int32_t day = INT32_MIN;
  for (int d = 0; d < situation.slots(); ++d) {
    const Domain& domain = situation.compiled.domains[at(d)];
    const trade::Part* part = domain.parts[at(candidates[at(d)])];
    const Figure& figure = situation.figures[at(d)][at(candidates[at(d)])];
    bike.parts.emplace(domain.slot->id, part != nullptr ? part->id : trade::PartId());
    bike.price.cents += figure.price;
    mass += figure.mass;
    day = std::max(day, figure.day);
  }
  bike.masses_not_known = static_cast<int>(mass / Figure::kMassNotKnown);
  bike.mass = static_cast<double>(mass % Figure::kMassNotKnown) * Figure::kMassUnit * kg;
  if (day != INT32_MIN && day < Figure::kNever) bike.ready = Day{std::chrono::days(day)};
  bike.verdict = worst_of(situation.compiled, candidates);
  return bike;
}

}  // namespace rollwright::spec
