#pragma once

#include <string_view>

namespace rollwright::pictures {

/// How the camera was held, as it wrote into the picture: 1 to 8; 1 where it says nothing that can
/// be read. `block` is what an APP1 segment of a JPEG holds.
///
/// Source: [camera-turn] in docs/sources.md.
[[nodiscard]] int camera_turn(std::string_view block);

}  // namespace rollwright::pictures
