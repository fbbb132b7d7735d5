#pragma once

#include "base/result.hpp"
#include "units/quantity.hpp"

namespace rollwright::mech {

/// Where the front wheel and a foot may meet.
struct ToeRoom {
  Length front_centre;  // bottom bracket to front axle, 400 to 2200 mm
  Length bead_seat;     // of the front rim, 150 to 800 mm
  Length tyre_width;    // 10 to 150 mm
  Length crank;         // 80 to 220 mm
};

/// Room between the pedal's axle, crank level and forwards, and the front tyre. Negative when they
/// overlap.
/// Method:    front centre less wheel radius less crank; the tyre as high as it is wide.
/// Source:    [pedal-room] in docs/sources.md: at least 89 mm without foot retention in the US.
/// Accuracy:  a tyre's height may differ from its width by a tenth.
/// Ignores:   mudguards, shoes, that the pedal lies beside the wheel. Errors: kOutOfRange.
[[nodiscard]] Result<Length> toe_room(const ToeRoom& room);

/// A bike that leans into a corner with the inner pedal down.
struct PedalLean {
  Length bracket_drop;     // below the axles, -150 to 150 mm
  Length bead_seat;        // of the rear rim, 150 to 800 mm
  Length tyre_width;       // 10 to 150 mm
  Length crank;            // 80 to 220 mm
  Length stance;           // between the outer faces of the arms, 80 to 300 mm
  Length pedal_width;      // arm to outer end of the pedal, 30 to 200 mm
  Length pedal_thickness;  // 5 to 60 mm
};

/// Angle from upright at which the pedal touches the ground.
/// Method:    tangent from the tyre's tread, taken as a circle of the tyre's width, to the pedal's
///            lower outer edge.
/// Source:    [pedal-room]: 25 degrees in US and ISO rules. Accuracy: 1 degree for 3 mm.
/// Ignores:   suspension and tyre squash. Errors: kOutOfRange; kContradiction when the pedal
///            touches the ground upright.
[[nodiscard]] Result<Angle> pedal_lean(const PedalLean& lean);

}  // namespace rollwright::mech
