#pragma once

#include <span>
#include <vector>

#include "spec/diagram.hpp"

namespace rollwright::spec {

/// Whether these sums can be held beside a diagram: their limits hang on one slot at most, and a
/// bike that breaks one does not fit.
[[nodiscard]] bool sums_can_be_held(const Compiled& compiled, std::span<const int> constraints);

/// More sums than this (of different terms) are not held beside a diagram.
inline constexpr std::size_t kMostWholeSums = 2;

/// The sums with their shares and limits; rules that add up the same are one sum.
[[nodiscard]] std::vector<WholeSum> whole_sums_of(const Compiled& compiled,
                                                  std::span<const int> constraints);

/// Appends what tells this candidate's limits apart from those of others in its slot.
void add_limit_signature(const std::vector<WholeSum>& sums, int slot, int candidate,
                         std::vector<int>& signature);

}  // namespace rollwright::spec
