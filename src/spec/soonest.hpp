#pragma once

#include "spec/best_bike.hpp"

namespace rollwright::spec {

/// The earliest day by which every part of some complete bike is here.
struct Soonest {
  std::int32_t day = Figure::kNever;  // kNever: some part of every bike cannot be had
  bool exists = false;                // a bike exists at all
  bool proven = true;
};

/// Method: bisection over the days on which parts arrive, asking each time whether a bike exists of
/// parts that are here by then. Exact also where sums over the whole bike could be broken.
[[nodiscard]] Soonest soonest_bike(const Situation& situation, const Outlook& outlook, int level,
                                   Budget& budget);

/// The outlook with the parts that are not here by `day` taken away.
[[nodiscard]] Outlook here_by(const Situation& situation, Outlook outlook, std::int32_t day);

}  // namespace rollwright::spec
