#pragma once

#include <span>
#include <vector>

#include "spec/choices.hpp"
#include "spec/search.hpp"

namespace rollwright::spec {

/// Status of the best complete bike with these slots decided: kOpen ... kNotKnown, kClosed when
/// there is none, kNotProven when the budget ended first.
/// Groups of `offered` count though their parts are discontinued.
[[nodiscard]] Status best_completion(const Compiled& compiled, std::span<const Fixed> fixed,
                                     std::span<const Fixed> offered, Budget& budget);

struct HarvestInput {
  std::vector<Fixed> fixed;
  std::vector<int> targets;  // domains whose groups are asked for; none of them fixed
  /// Levels below are known to hold no complete bike.
  int first_level = 0;
  std::vector<Fixed> also_offered;  // though their parts may be discontinued
};

/// Status of every group of the targets, by domain and group: the verdict of the best complete bike
/// that contains it.
///
/// Method: level by level, ask for a complete bike with each group that has none yet. A bike that
/// is found speaks for one group in every slot, so that a few dozen searches settle everything; a
/// group that has none is taken away before the next is asked.
[[nodiscard]] std::vector<std::vector<Status>> harvest(const Compiled& compiled,
                                                       const HarvestInput& input, Budget& budget);

}  // namespace rollwright::spec
