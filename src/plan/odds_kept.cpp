#include "plan/odds_kept.hpp"

#include <algorithm>
#include <cmath>

namespace rollwright::plan {
namespace {

constexpr int kSteps = 1000;  // in which the even places lie

struct Atom {
  double place = 0;
  bool still_open = false;
  double weight = 0;
};

/// Ascending; at one place what is still open comes first, so that its weight reaches the others.
std::vector<Atom> sorted(const std::vector<PlaceKept>& places) {
  std::vector<Atom> atoms;
  for (int step = 0; step < kSteps; ++step) {
    atoms.push_back({(step + 0.5) / kSteps, false, OddsKept::kPriorWeight / kSteps});
  }
  for (const PlaceKept& place : places) {
    atoms.push_back({std::clamp(place.odds, 0.0, 1.0), place.still_open, place.weight});
  }
  std::ranges::stable_sort(atoms, [](const Atom& a, const Atom& b) {
    return std::pair(a.place, !a.still_open) < std::pair(b.place, !b.still_open);
  });
  return atoms;
}

}  // namespace

OddsKept::OddsKept(const std::vector<PlaceKept>& places) {
  for (const PlaceKept& place : places) ++(place.still_open ? still_open_ : ready_);
  const std::vector<Atom> atoms = sorted(places);
  double left = 0;  // weight of this atom and those above it, as given
  for (const Atom& atom : atoms) left += atom.weight;
  const double all = left;
  double grown = 1;  // what weight stands for by now
  double below = 0;
  for (const Atom& atom : atoms) {
    const double above = left - atom.weight;
    if (!atom.still_open) {
      below += atom.weight * grown;
      below_.emplace_back(atom.place, std::min(1.0, below / all));
    } else if (above > 0) {
      grown *= left / above;
    }
    left = above;
  }
}

double OddsKept::kept(double said) const {
  if (ready_ + still_open_ == 0) return said;
  if (said >= 1) return 1;
  // Places less than what was said were kept.
  const auto first =
      std::ranges::lower_bound(below_, said, {}, [](const auto& place) { return place.first; });
  return first == below_.begin() ? 0 : std::prev(first)->second;
}

double OddsKept::to_ask(double wanted) const {
  constexpr double kLastPlace = 1e-9;
  if (ready_ + still_open_ == 0) return wanted;
  const auto first = std::ranges::find_if(below_, [&](const auto& place) {
    return place.second >= wanted - kLastPlace;
  });
  return first == below_.end() ? 1 : std::min(1.0, first->first + kLastPlace);
}

double weight_of_age(Day said, Day today) {
  constexpr double kHalvedAfter = 91;  // days
  return std::pow(0.5, std::max(0.0, static_cast<double>((today - said).count())) / kHalvedAfter);
}

double said_before(const std::vector<CurvePoint>& curve, Day day) {
  const auto on = std::ranges::lower_bound(curve, day, {}, &CurvePoint::day);
  return on == curve.begin() ? 0 : std::prev(on)->probability;
}

Promise as_kept(Promise promise, const OddsKept& odds) {
  for (CurvePoint& point : promise.curve) point.probability = odds.kept(point.probability);
  set_days(promise);
  return promise;
}

}  // namespace rollwright::plan
