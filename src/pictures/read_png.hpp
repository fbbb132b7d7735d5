#pragma once

#include <string_view>

#include "base/result.hpp"
#include "pictures/pixels.hpp"

namespace rollwright::pictures {

/// The picture over white with `most` pixels on its longest side. Errors: those of small_copy.
[[nodiscard]] Result<Pixels> read_png(std::string_view bytes, int most);

}  // namespace rollwright::pictures
