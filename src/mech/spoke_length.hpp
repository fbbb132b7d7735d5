#pragma once

#include <vector>

#include "base/result.hpp"
#include "units/quantity.hpp"

namespace rollwright::mech {

/// The two ends of one spoke. The hub's axis is the z axis, z grows towards the side the caller
/// chooses; both z values are measured from the middle between the locknuts.
struct SpokeEnds {
  Length hub_radius;       // of the point that carries the spoke, 3 to 150 mm
  Angle hub_angle;         // around the axis
  Length hub_across;       // z of that point, -150 to 150 mm
  Length rim_radius;       // of the spoke's end in the nipple, 75 to 400 mm
  Angle rim_angle;         // around the axis
  Length rim_across;       // z of the nipple row, -30 to 30 mm
  Length seat_correction;  // added to the straight distance, -150 to 150 mm
};

/// One spoke as built. The three shares are the direction cosines of the pull of the spoke on the
/// rim; their squares sum to 1.
struct SpokeLine {
  Length length;       // to order: with the seat correction
  Length path;         // straight line between the two ends
  double lateral = 0;  // towards the flange; the sine of the bracing angle
  double radial = 0;   // towards the axle
  double tangential = 0;
  Angle bracing;      // between the spoke and the plane of the wheel
  Angle nipple_tilt;  // in the plane of the wheel, away from the radius through the nipple
};

/// Length of any straight spoke between two points: paired, 2:1 and odd lacings, hub hole phase.
///
/// Method:    distance of the two points in space, plus the seat correction.
/// Source:    [spoke-geometry] in docs/sources.md.
/// Accuracy:  exact for ideal geometry.
/// Ignores:   stretch, rim shrink (mech/spoke_stretch.hpp), bending at crossings.
/// Errors:    kOutOfRange when a field leaves its range or the ends meet.
[[nodiscard]] Result<SpokeLine> spoke_between(const SpokeEnds& ends);

/// One side of a wheel with bent (J) spokes, evenly drilled.
struct WheelSide {
  Length flange_circle;          // diameter of the circle of holes, 15 to 300 mm
  Length flange_offset;          // flange centre plane from the middle of the hub, -20 to 120 mm
  Length rim_diameter;           // effective: through the spokes' ends, 150 to 800 mm
  Length nipples_towards = {};   // rim offset, positive towards this flange, -10 to 10 mm
  Length spoke_hole = 2.5 * mm;  // in the flange, 1.8 to 5 mm
  int holes = 16;                // in this flange, 4 to 72
  double crosses = 3;            // 0 is radial; halves and others are odd lacings, 0 to 18
};

/// Length of a J-bend spoke for one side of a wheel, inside of the elbow to end of the thread.
///
/// Method:    law of cosines in the wheel plane with the hub angle 2 pi crosses / holes,
///            Pythagoras along the axle, less half a hole.
/// Source:    [spoke-geometry] in docs/sources.md.
/// Accuracy:  exact for ideal geometry; 1 mm in the effective rim diameter moves it about 0.5 mm,
///            1 mm in the flange offset about 0.1 mm.
/// Ignores:   spoke stretch, elbow bedding-in, asymmetric drilling, spoke heads in the way.
/// Errors:    kOutOfRange when a field leaves its range; kContradiction when the crosses need more
///            holes than the flange has (see most_crosses), when crossed spokes meet an odd count
///            of holes, or when the flange is not smaller than the rim.
[[nodiscard]] Result<SpokeLine> spoke_length(const WheelSide& side);

/// The most crosses a flange can hold before a spoke runs over its neighbours' heads.
/// Method: a spoke touches the circle of holes when cos(hub angle) = flange circle / rim diameter.
/// Errors: kOutOfRange as for spoke_length; kContradiction for a flange not smaller than the rim.
[[nodiscard]] Result<int> most_crosses(Length flange_circle, Length rim_diameter, int holes);

/// How far the spoke passes the centre of the nearest other hole of its flange, seen along the
/// axle.
/// Under about 3 mm (half a spoke head and half a spoke) it lies on its neighbour's head.
/// Method:   distance of a point from the line hole to nipple. Source: [spoke-geometry]; 3 mm from
///           memory. Errors: as for spoke_length.
[[nodiscard]] Result<Length> room_beside_heads(const WheelSide& side);

/// One side of a wheel whose spokes go straight into pockets. All three hub numbers come from the
/// hub maker's drawing; the hole circle of a J-bend hub cannot stand in for them.
struct StraightPullSide {
  Length axis_circle_radius;    // the spoke's axis is tangent to this circle, 0 to 60 mm
  Length flange_offset;         // -20 to 120 mm
  Length rim_diameter;          // effective, 150 to 800 mm
  Length nipples_towards = {};  // -10 to 10 mm
  Length seat_correction = {};  // tangent point to head seat along the spoke, -40 to 40 mm
};

/// Length of a straight-pull spoke, head seat to end of the thread.
/// Method:   tangent length in the wheel plane, Pythagoras along the axle, plus seat correction.
/// Source:   [spoke-geometry]. Accuracy: exact for ideal geometry. Ignores: stretch.
/// Errors:   kOutOfRange.
[[nodiscard]] Result<SpokeLine> straight_pull_length(const StraightPullSide& side);

/// Both flanges of a J-bend wheel.
struct Flange {
  Length circle;
  Length offset;
  int holes = 16;
  double crosses = 3;
};
struct WheelGeometry {
  Flange left;
  Flange right;
  Length rim_diameter;
  Length nipples_towards_left = {};  // rim offset; negative is towards the right flange
  Length spoke_hole = 2.5 * mm;
};
struct WheelSpokes {
  SpokeLine left;
  SpokeLine right;
  int left_count = 0;
  int right_count = 0;
};

/// Spokes of both sides.
/// Errors: as for spoke_length, with the side named; kContradiction when the counts of the sides
/// are neither equal nor 2:1.
[[nodiscard]] Result<WheelSpokes> wheel_spokes(const WheelGeometry& wheel);

/// A length from the drawer for a computed one.
struct StockLength {
  Length length;
  Length difference;  // stock less computed
};

/// The stock length to take: the longest that is not over the computed length and at most 1 mm
/// under it; failing that the shortest at most 0.5 mm over. Under tension a spoke grows and the rim
/// shrinks by 0.5 to 0.9 mm together, so down is the safer side.
/// Source:   [spoke-stock]. Errors: kNotFound naming the nearest stock lengths; kOutOfRange.
[[nodiscard]] Result<StockLength> stock_length(Length computed, const std::vector<Length>& stock);

}  // namespace rollwright::mech
