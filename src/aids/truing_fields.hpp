#pragma once

#include <vector>

#include "aids/given.hpp"
#include "mech/truing.hpp"

// What is typed for the truing of a wheel: today's readings, the limits, and the wheel itself.
namespace rollwright::aids {

[[nodiscard]] std::vector<Input> truing_fields();
/// Only the readings of one pass: lateral, radial, tensions, meter, dish.
[[nodiscard]] std::vector<Input> truing_reading_fields();

/// The wheel of the typed fields; its spokes carry the tensions to build to.
/// Errors: those of spoke_spring, laced and TruingWheel::of.
[[nodiscard]] Result<mech::TruingWheel> truing_wheel(const Given& given);

[[nodiscard]] mech::TruingLimits truing_limits(const Given& given);

}  // namespace rollwright::aids
