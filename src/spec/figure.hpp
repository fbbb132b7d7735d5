#pragma once

#include <cstdint>

#include "trade/part.hpp"

namespace rollwright::spec {

/// What one part adds in its slot, in whole numbers that add up exactly.
struct Figure {
  /// Pieces whose mass is not known count as this much, so that fewer of them is always lighter.
  static constexpr std::int64_t kMassNotKnown = std::int64_t{1} << 44;
  static constexpr double kMassUnit = 1e-6;     // kg: whole milligrams
  static constexpr std::int32_t kNever = INT32_MAX - 1;

  std::int64_t price = 0;  // cents, times the pieces in the slot
  std::int64_t mass = 0;
  std::int32_t day = INT32_MIN;  // since 1970, on which it is here; kNever: cannot be had
};
/// Of so many pieces of the part, without its day; of nothing when there is no part.
[[nodiscard]] Figure figure_of(const trade::Part* part, int pieces);

}  // namespace rollwright::spec
