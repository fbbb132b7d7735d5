#pragma once

#include <string_view>

#include "base/result.hpp"
#include "pictures/pixels.hpp"

namespace rollwright::pictures {

/// The picture with `most` pixels on its longest side, turned as the camera held it. Errors: those
/// of small_copy.
[[nodiscard]] Result<Pixels> read_jpeg(std::string_view bytes, int most);

}  // namespace rollwright::pictures
