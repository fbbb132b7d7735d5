#pragma once

#include "aids/aids.hpp"

// From the hand to the tyre, and how heavy the whole may be.
namespace rollwright::aids {

[[nodiscard]] Aid brake_force_aid();
[[nodiscard]] Aid mass_limits_aid();

}  // namespace rollwright::aids
