#pragma once

#include "units/quantity.hpp"

namespace rollwright::mech {

// Stress and elastic modulus are pressures; material tables print them in these units.
inline constexpr Pressure megapascal = Pressure::make(10);
inline constexpr Pressure gigapascal = Pressure::make(10000);

}  // namespace rollwright::mech
