#include "spec/soonest.hpp"

#include <set>

namespace rollwright::spec {

Outlook here_by(const Situation& situation, Outlook outlook, std::int32_t day) {
  for (std::size_t d = 0; d < outlook.usable.size(); ++d) {
    for (std::size_t i = 0; i < outlook.usable[d].size(); ++i) {
      if (situation.figures[d][i].day > day) outlook.usable[d][i] = 0;
    }
  }
  return outlook;
}

Soonest soonest_bike(const Situation& situation, const Outlook& outlook, int level,
                     Budget& budget) {
  std::set<std::int32_t> distinct;
  for (const auto& figures : situation.figures) {
    for (const Figure& figure : figures) distinct.insert(figure.day);
  }
  const std::vector<std::int32_t> days(distinct.begin(), distinct.end());
  const auto costs =
      costs_by(situation, [](const Figure& figure) { return Cost{figure.mass, figure.price}; });
  Soonest soonest;
  const auto exists_by = [&](std::int32_t day) {
    const Outlook by = here_by(situation, outlook, day);
    const BestBike best = best_bike({situation, by, level, costs}, budget);
    const bool found = !best.candidates.empty();
    soonest.proven &= found || best.state != BestBike::State::kGaveUp;
    return found;
  };
  if (days.empty() || !exists_by(days.back())) return soonest;
  soonest.exists = true;
  std::size_t low = 0;
  std::size_t high = days.size() - 1;  // a bike exists by this day
  while (low < high) {
    const std::size_t middle = low + (high - low) / 2;
    if (exists_by(days[middle])) {
      high = middle;
    } else {
      low = middle + 1;
    }
  }
  soonest.day = days[high];
  return soonest;
}

}  // namespace rollwright::spec
