#pragma once

#include <vector>

#include "aids/given.hpp"
#include "mech/rim_section.hpp"
#include "mech/spoke_length.hpp"

// Fields that several aids about wheels have in common.
namespace rollwright::aids {

/// Rim diameter, nipples off the middle, both flanges, spoke holes.
[[nodiscard]] std::vector<Input> wheel_geometry_fields();
[[nodiscard]] mech::WheelGeometry wheel_geometry(const Given& given);

/// Rims of published acoustic tests, described without their names: "rim".
[[nodiscard]] Input rim_field();
/// The rim chosen there, as wide as "rim_diameter" says.
[[nodiscard]] mech::RimSection rim_given(const Given& given);

}  // namespace rollwright::aids
