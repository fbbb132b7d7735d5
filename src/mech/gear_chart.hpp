#pragma once

#include <vector>

#include "mech/gearing.hpp"

namespace rollwright::mech {

/// What to chart: the gears of a bike and the cadences a rider likes.
struct GearChartAsked {
  GearSet set;
  DrivenWheel wheel;
  double low_cadence = 60;     // crank turns per minute, 20 to 200
  double high_cadence = 90;    // likewise, more than the low one
  double same_percent = 3;     // gears no further apart than this are one to a rider, 0 to 20
};

/// One gear of the chart.
struct ChartedGear {
  GearFigures figures;     // development, gear inches, gain, step above the next lower gear
  int front_number = 1;    // place among the chainrings, smallest first
  int rear_number = 1;     // among the sprockets, largest (easiest) first
  int hub_number = 1;      // among the hub's gears, lowest first
  Speed from, to;          // over the cadences
  bool repeats = false;    // no more than same_percent above the last gear that does not repeat
  bool reaches_up = true;  // its `to` is at least the `from` of the next gear that does not repeat
};

/// The ways of one chainring, over all sprockets and hub gears.
struct RingSpan {
  int front = 0;
  Length lowest, highest;      // development
  double shared_percent = 0;   // of its span, on the scale of ratios, that other rings cover too
};

/// Every gear of a bike with what a rider asks of a chart.
struct GearChart {
  std::vector<ChartedGear> gears;  // lowest first
  std::vector<RingSpan> rings;     // smallest first
  double range_percent = 100;      // highest over lowest
  int different = 0;               // gears that do not repeat
  double mean_step_percent = 0;    // geometric, between those
  double largest_step_percent = 0;
};

/// Chart of gears for derailleurs, hub gears and both together.
///
/// Method:    gear_list; speeds by speed_at; overlap of chainrings on the logarithmic scale.
/// Source:    [gearing] in docs/sources.md. Accuracy: as gear_figures. Ignores: chainline; slip.
/// Errors:    kOutOfRange; kContradiction when the low cadence is not under the high one.
[[nodiscard]] Result<GearChart> gear_chart(const GearChartAsked& asked);

}  // namespace rollwright::mech
