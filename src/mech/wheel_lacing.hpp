#pragma once

#include <vector>

#include "base/result.hpp"
#include "mech/spoke_length.hpp"
#include "units/quantity.hpp"

namespace rollwright::mech {

enum class WheelEnd { kLeft, kRight };

/// One spoke in its place, as the mechanics of the wheel see it.
struct WheelSpoke {
  Angle at;          // of its nipple around the rim
  WheelEnd end;      // the flange it hangs from
  double lateral;    // share of its pull towards the left, negative for a right spoke
  double radial;     // towards the axle
  double tangential;  // along growing angles
  Length path;       // 40 to 700 mm, what stretches
  Force rigidity;    // E times its area (mech/spoke_stretch.hpp), 1 kN to 10 MN
  Force tension;     // 0 to 5000 N
};

/// What lies between two nipples and two hub points, in the order around the rim.
struct SpokeSeat {
  SpokeEnds ends;  // z grows towards the left
  WheelEnd end = WheelEnd::kLeft;
  Force rigidity;
  Force tension;
};

/// Any wheel: radial, crossed, paired, 2:1, offset rims, straight pull, by its points.
///
/// Method:    direction of each spoke from nipple to hub point.
/// Source:    [spoke-geometry]. Accuracy: exact for ideal geometry.
/// Ignores:   bending of crossed spokes round each other; nipples off the rim's shear centre.
/// Errors:    kOutOfRange with the spoke's number (from 1) for ends outside their ranges;
///            kContradiction when nipples do not go once around in growing angles.
[[nodiscard]] Result<std::vector<WheelSpoke>> spokes_in_place(const std::vector<SpokeSeat>& seats);

/// One side of an evenly drilled wheel.
struct LacedSide {
  Flange flange;
  Force rigidity;
  Force tension;
};
struct LacedWheel {
  LacedSide left;
  LacedSide right;
  Length nipple_circle;              // diameter through the spokes' ends
  Length nipples_towards_left = {};  // rim offset
};

/// The usual wheel: nipples evenly spaced, sides alternating (with twice as many on one side: two
/// of that side after one of the other), trailing and leading spokes alternating on each flange.
///
/// Method:    hub angle 2 pi crosses / holes either way from the nipple, then as spokes_in_place.
/// Source:    [spoke-geometry]. Ignores: how far the flanges' holes really stand from that.
/// Errors:    as for wheel_spokes (mech/spoke_length.hpp).
[[nodiscard]] Result<std::vector<WheelSpoke>> laced(const LacedWheel& wheel);

}  // namespace rollwright::mech
