#pragma once

#include <cstddef>

namespace rollwright {

/// A count that was checked to be no less than zero, as an index.
[[nodiscard]] constexpr std::size_t at(int index) { return static_cast<std::size_t>(index); }

}  // namespace rollwright
