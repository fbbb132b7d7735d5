#pragma once

#include "base/result.hpp"
#include "mech/spoke_length.hpp"

namespace rollwright::mech {

/// From the nipple along the spoke to its outermost crossing: the part that sounds when the spoke is
/// plucked between the two. The whole length between its ends for a spoke that crosses none.
///
/// Method:    in the plane of the wheel the crossing lies on the radius midway to the next nipple of
///            the same flange, whose spoke is the mirror image.
/// Source:    [spoke-geometry]. Accuracy: exact for ideal geometry; 1 mm on the crossing by hand.
/// Ignores:   the bend of spokes around each other.
/// Errors:    as for spoke_length.
[[nodiscard]] Result<Length> length_to_crossing(const WheelSide& side);

}  // namespace rollwright::mech
