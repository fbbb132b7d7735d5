#pragma once

#include "base/result.hpp"
#include "units/quantity.hpp"

namespace rollwright::mech {

/// A place in the side view of a bike: origin at the bottom bracket, x forwards, y up.
struct SidePoint {
  Length x;
  Length y;
};

/// Where to start with the saddle.
struct SaddleHeight {
  Length by_bracket;  // bottom bracket centre to saddle top, along the seat tube: 0.883 inseam
  Length by_pedal;    // pedal axle, crank in line with the seat tube, to saddle top: 1.09 inseam
  Length by_pedal_from_bracket;  // the same as a height over the bottom bracket
};

/// Two rules of thumb for the saddle height.
///
/// Method:    0.883 times the inseam; 1.09 times it (Hamley and Thomas 1967) less the crank.
/// Source:    [saddle-height] in docs/sources.md.
/// Accuracy:  a start for the fitting; 19 riders showed no significant difference between the two
///            rules, and knees ask for 25 to 35 degrees of bend at the bottom.
/// Ignores:   shoe soles, pedal height, flexibility, saddle squash.
/// Errors:    kOutOfRange (inseam 300 to 1200 mm, crank 80 to 220 mm).
[[nodiscard]] Result<SaddleHeight> saddle_height(Length inseam, Length crank);

struct Standover {
  Length room;         // inseam less the top tube's height where the rider stands; can be negative
  bool holds = false;  // at least the wanted room
};
/// Room over the top tube. Source: [standover], 25 mm as a floor in 16 CFR 1512.19.
/// Errors: kOutOfRange (inseam 300 to 1200 mm, tube 200 to 1200 mm, wanted room 0 to 200 mm).
[[nodiscard]] Result<Standover> standover(Length inseam, Length tube_over_ground,
                                          Length wanted = 25 * mm);

/// The saddle's top, on the line of the seat tube.
struct SaddlePost {
  Length height;     // bottom bracket to saddle top along the seat tube, 200 to 1100 mm
  Angle seat_angle;  // from the ground, 55 to 90 degrees
};
/// Method: elementary geometry. Source: [fit-geometry]. Ignores: seat post setback, rail position.
/// Errors: kOutOfRange.
[[nodiscard]] Result<SidePoint> saddle_point(const SaddlePost& post);

/// Frame, stem and spacers up to the middle of the bar.
struct Cockpit {
  Length stack;      // bottom bracket to top of the head tube, upright, 250 to 900 mm
  Length reach;      // the same, level, 150 to 700 mm
  Angle head_angle;  // from the ground, 50 to 85 degrees
  Length spacers;    // top of the head tube to the middle of the stem's clamp, 0 to 250 mm
  Length stem;       // middle of steerer to middle of bar, 0 to 200 mm
  Angle stem_angle;  // from square to the steerer, up positive, -40 to 60 degrees
};
/// Middle of the bar clamp. Method: up the steerer by the spacers, then along the stem, which rises
/// by 90 degrees less the head angle plus its own angle. Source: [fit-geometry].
/// Accuracy: exact for the numbers given. Ignores: rise and sweep of the bar. Errors: kOutOfRange.
[[nodiscard]] Result<SidePoint> bar_point(const Cockpit& cockpit);

}  // namespace rollwright::mech
