#pragma once

#include <span>

#include "spec/best_bike.hpp"

namespace rollwright::spec {

/// The complete bike that differs from the choices in as few slots as can be; of several, one of
/// which every fact is known, then the cheapest.
struct FewestChanges {
  std::vector<int> candidates;  // by slot; empty: no complete bike
  int changes = 0;
  trade::Verdict worst = trade::Verdict::kNotKnown;  // kFitsWithCare: every fact is known
  std::int64_t price = 0;
  bool proven = true;
};

/// `situations` decide what must not be changed; `choices` are what may be, each at a price of one.
[[nodiscard]] FewestChanges fewest_changes(const Situations& situations,
                                           std::span<const Fixed> choices, Budget& budget);

}  // namespace rollwright::spec
