#pragma once

#include <set>
#include <string>
#include <vector>

#include "shop/life_facts.hpp"
#include "spec/check.hpp"

namespace rollwright::shop {

/// What the fit rules say of a bike with other parts in some slots.
struct FitAfter {
  spec::SpecCheck before;
  spec::SpecCheck after;
  /// What does not fit because of them, and what of them is not known and asked by a STOP rule.
  std::vector<std::string> stops;
  std::vector<std::string> warns;  // what else is said because of them
};

/// The order of `at` against `changed`, which has other parts in `slots`. Questions that a person decides
/// are asked again before a release, and warn here.
[[nodiscard]] FitAfter fit_after(const LifeAt& at, const trade::Order& changed,
                                 const std::set<trade::SlotId>& slots);

}  // namespace rollwright::shop
