#pragma once

#include "units/quantity.hpp"

namespace rollwright::mech {

/// How far one full turn of a nipple draws the spoke: 56 threads to the inch, right-hand, for the
/// usual spoke threads FG 2, FG 2.3 and FG 2.6. Source: [nipple-thread] in docs/sources.md.
inline constexpr Length kNipplePitch = inch / 56;

/// Turns that draw the spoke by `travel` (negative to let go), when the spoke does not wind up.
[[nodiscard]] constexpr double nipple_turns(Length travel) { return travel / kNipplePitch; }

}  // namespace rollwright::mech
