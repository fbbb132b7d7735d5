#pragma once

#include <string>

#include "pictures/pixels.hpp"

namespace rollwright::pictures {

/// As a JPEG of this quality, 1 to 100.
[[nodiscard]] std::string write_jpeg(const Pixels& pixels, int quality);

}  // namespace rollwright::pictures
