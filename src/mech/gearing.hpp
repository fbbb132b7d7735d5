#pragma once

#include <vector>

#include "base/result.hpp"
#include "units/quantity.hpp"

namespace rollwright::mech {

/// One gear as the chain or belt lies.
struct Gear {
  int front = 0;         // teeth, 6 to 130
  int rear = 0;          // teeth, 6 to 130
  double hub_ratio = 1;  // wheel turns per sprocket turn, 0.1 to 10; 1 without a hub gear
};

/// The driven wheel. `tyre.hpp` gives both lengths from the tyre's size; a measured roll-out with
/// the rider on is 1 to 2 % shorter and the better value.
struct DrivenWheel {
  Length diameter;       // over the tyre, 200 to 1000 mm
  Length circumference;  // one turn on the ground, 600 to 3200 mm
  Length crank;          // crank length, 80 to 220 mm
};

/// What one gear does.
///
/// Method:    ratio = front / rear * hub ratio; development = ratio * circumference; gear inches =
///            ratio * diameter; gain = ratio * (diameter / 2) / crank.
/// Source:    [gearing] in docs/sources.md.
/// Accuracy:  exact for the circumference given.
/// Ignores:   tyre slip and squash (measure the roll-out).
/// Errors:    kOutOfRange.
struct GearFigures {
  Gear gear;
  double ratio = 0;
  Length development;       // way per crank turn
  Length equivalent;        // .in(inch) are the gear inches
  double gain = 0;          // way of the bike over way of the pedal
  double step_percent = 0;  // above the next lower gear of a list; 0 for the lowest
};
[[nodiscard]] Result<GearFigures> gear_figures(const Gear& gear, const DrivenWheel& wheel);

/// Speed at `cadence` crank turns per minute (0 to 250). Errors: kOutOfRange.
[[nodiscard]] Result<Speed> speed_at(Length development, double cadence_per_minute);

/// Everything that can be combined: chainrings, sprockets and the gears inside the hub.
struct GearSet {
  std::vector<int> fronts;               // 1 to 4
  std::vector<int> rears;                // 1 to 16
  std::vector<double> hub_ratios = {1};  // 1 to 20
};
struct GearList {
  std::vector<GearFigures> gears;  // lowest first; equal ratios keep the order of the set
  double range_percent = 100;      // highest over lowest
};

/// Every gear of a bike in order, for hub gears, derailleurs and both together.
/// Errors: kOutOfRange for an empty or overlong list and for any gear outside its range.
[[nodiscard]] Result<GearList> gear_list(const GearSet& set, const DrivenWheel& wheel);

/// Hub gears carry a limited torque; their makers print the smallest permitted front / rear.
struct PrimaryRatio {
  double ratio = 0;
  double least = 0;
  bool holds = false;  // ratio >= least
};
/// Errors: kOutOfRange for teeth, or a printed least ratio not from 0.3 to 5.
[[nodiscard]] Result<PrimaryRatio> primary_ratio(const Gear& gear, double least);

/// The two geared steps of a simple planetary hub with a fixed sun; the third is 1.
struct PlanetaryRatios {
  double low = 0;   // ring drives: ring / (ring + sun)
  double high = 0;  // cage drives: (ring + sun) / ring
};
/// Source: [gearing]. Errors: kOutOfRange (10 to 200 teeth); kContradiction when the ring is not
/// larger than the sun.
[[nodiscard]] Result<PlanetaryRatios> planetary_ratios(int sun_teeth, int ring_teeth);

}  // namespace rollwright::mech
