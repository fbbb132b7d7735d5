#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "mech/rider_fit.hpp"
#include "units/quantity.hpp"

namespace rollwright::mech {

/// A frame as a geometry table prints it.
struct FrameGeometry {
  Length stack;         // 250 to 900 mm
  Length reach;         // 150 to 700 mm
  Angle head_angle;     // 50 to 85 degrees
  Angle seat_angle;     // 55 to 90 degrees
  Length seat_tube;     // bottom bracket to its top, 150 to 750 mm
  Length head_tube;     // 60 to 350 mm
  Length chainstay;     // bottom bracket to rear axle, 300 to 700 mm
  Length bracket_drop;  // bottom bracket under the rear axle, -60 to 110 mm
};

/// The fork; its length and offset give the front axle.
struct ForkGeometry {
  Length length;       // crown seat to axle, straight, 200 to 650 mm
  Length offset;       // axle in front of the steering axis, 0 to 110 mm
  Length lower_stack;  // headset between head tube and crown, 0 to 40 mm
};

struct WheelOutline {
  Length tyre_diameter;  // 200 to 1000 mm
  Length rim_diameter;   // bead seat, smaller than the tyre
};

/// All the numbers of a side view. Give the wheelbase, the fork, or both; both must then agree.
struct OutlineInput {
  FrameGeometry frame;
  std::optional<Length> wheelbase;  // axle to axle, level, 700 to 2600 mm
  std::optional<ForkGeometry> fork;
  WheelOutline front;
  WheelOutline rear;
  Length saddle_height;  // bottom bracket to saddle top along the seat tube, 200 to 1100 mm
  Length spacers;        // top of the head tube to the middle of the stem's clamp, 0 to 250 mm
  Length stem;           // 0 to 200 mm
  Angle stem_angle;      // from square to the steerer, -40 to 60 degrees
  Length crank;          // 80 to 220 mm
};

struct NamedPoint {
  std::string name;
  SidePoint at;
};
struct NamedCircle {
  std::string name;
  SidePoint centre;
  Length radius;
};

/// The side view to scale: origin at the bottom bracket, x forwards, y up.
///
/// Points: "rear axle", "front axle", "bottom bracket", "head tube top", "head tube bottom",
/// "crown", "seat cluster", "saddle", "bar". Circles: "rear tyre", "front tyre", "rear rim",
/// "front rim", "crank".
struct BikeOutline {
  std::vector<NamedPoint> points;
  std::vector<NamedCircle> circles;
  Length ground;  // y of the ground, negative
  Length wheelbase;
  Length trail;  // ground contact behind the steering axis, along the ground

  /// Null for a name that is not listed above.
  [[nodiscard]] const SidePoint* point(std::string_view name) const;
};

/// Solves the side view.
///
/// Method:    both tyres stand on level ground; rear axle from chainstay and drop; head tube from
///            stack, reach and angle; front axle level from its tyre, and along from the wheelbase,
///            else from the fork.
/// Source:    [fit-geometry] in docs/sources.md.
/// Accuracy:  that of the table, which is commonly rounded to 1 mm and 0.5 degrees. Where wheelbase
///            and fork are both given, their front axles may differ by 12 mm.
/// Ignores:   suspension sag, tyre squash, bent tubes, seat post setback.
/// Errors:    kOutOfRange for a field outside its range; kBadInput when neither wheelbase nor fork
///            is given; kContradiction when fork and wheelbase or fork and front tyre disagree, a
///            tyre covers the bottom bracket, the crown or the other tyre, a crank reaches the
///            ground, or the saddle is under the top of the seat tube.
[[nodiscard]] Result<BikeOutline> bike_outline(const OutlineInput& input);

}  // namespace rollwright::mech
