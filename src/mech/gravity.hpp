#pragma once

namespace rollwright::mech {

/// Acceleration of free fall, m/s²: the standard value, exact by definition (SI brochure).
inline constexpr double kGravity = 9.80665;

}  // namespace rollwright::mech
