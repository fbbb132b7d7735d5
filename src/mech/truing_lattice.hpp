#pragma once

#include "base/random.hpp"
#include "mech/truing_turns.hpp"

namespace rollwright::mech {

/// Whole quarter turns near the point that brings every row to the middle of its bounds: starts for
/// the search. Spokes are turned towards that point one by one in random order, each rounding made
/// good by the spokes still to come.
///
/// Method:    Babai's nearest plane on the Cholesky factor of the squared distance, for several
///            orders and several prices of a quarter; hard bands are left out.
/// Source:    L. Babai, Combinatorica 6 (1986) (from memory).
[[nodiscard]] std::vector<std::vector<int>> lattice_turns(const TurnProblem& problem,
                                                          Random& random);

/// Quarters as real numbers, without bound for one pass, that make the excess least: when that is
/// not zero, no turns at all reach the bounds.
///
/// Method:    Newton steps on the rows outside, with halving; convex in the quarters and the
///            middles of floating bands, so the least is global to the tolerance of 1e-12.
[[nodiscard]] std::vector<double> smooth_turns(const TurnProblem& problem);

}  // namespace rollwright::mech
