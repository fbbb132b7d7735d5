#pragma once

#include <map>
#include <optional>

#include "base/clock.hpp"
#include "trade/part.hpp"
#include "units/money.hpp"
#include "units/quantity.hpp"

namespace rollwright::spec {

/// The day on which each part can be in the shop, at the confidence that the order wants. A part
/// that is absent cannot be had: no day can be said for a bike that contains it.
using Arrivals = std::map<trade::PartId, Day>;

/// The best that some complete bikes come to, each figure by a bike of its own: the cheapest need
/// not be the lightest. All figures are exact.
struct Bests {
  std::optional<Money> price;    // of the cheapest bike
  /// Of the lightest bike, over its parts whose mass is known. A bike with fewer masses that are
  /// not known always counts as the lighter one.
  std::optional<Mass> mass;
  int masses_not_known = 0;      // pieces of the lightest bike
  std::optional<Day> ready;      // of the soonest bike: the day on which its last part is here
  /// False: the search was stopped by its budget, and what is not filled above is not known.
  bool proven = true;

  friend bool operator==(const Bests&, const Bests&) = default;
};

}  // namespace rollwright::spec
