#pragma once

#include <vector>

#include "spec/best_bike.hpp"
#include "spec/choices.hpp"

namespace rollwright::spec {

/// What a situation comes to for every candidate of every slot, and as a whole. In a decided slot a
/// candidate is judged in place of what is decided there.
struct Margins {
  struct Margin {
    Status status = Status::kClosed;
    Bests best;
  };
  Margin whole;
  std::vector<std::vector<Margin>> by_candidate;  // by slot
};

/// Without a diagram of possible bikes, what is not open is kNotProven.
///
/// Exact. Only sums over the whole bike that some bike could break cost more than a few sweeps; what
/// the budget leaves open there is kNotProven, or `proven` false.
[[nodiscard]] Margins margins_of(const Situations& situations, Budget& budget);

}  // namespace rollwright::spec
