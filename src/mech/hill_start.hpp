#pragma once

#include "base/result.hpp"
#include "units/quantity.hpp"

namespace rollwright::mech {

/// A bike in its lowest gear, with the rider seated and about to start.
struct HillStart {
  double front = 0;               // teeth of the smallest ring, 6 to 130
  double rear = 0;                // teeth of the largest sprocket, 6 to 130
  double hub_ratio = 1;           // wheel turns per sprocket turn, 0.1 to 10
  Length wheel_diameter;          // of the driven wheel, 200 to 1000 mm
  Length crank;                   // 80 to 220 mm
  Force push;                     // along the pedal's circle, mean over a turn, 0 to 1500 N
  Torque motor = {};              // at the cranks, 0 to 250 N·m; nothing without a motor
  Mass whole;                     // bike, rider and luggage, 20 to 500 kg
  double rolling = 0.006;         // rolling resistance over weight, 0 to 0.05
  double drive_efficiency = 0.95; // pedals to wheel, 0.7 to 1
};

/// The steepest slope (rise over run, 0.12 is 12 %) on which the bike can be started and kept going.
///
/// Method:    torque at the cranks over the gear gives the pull at the tyre; the slope is the one
///            whose downhill force and rolling resistance equal it. At most 1.
/// Source:    [hill-start] in docs/sources.md.
/// Accuracy:  the pull is exact for the torques given; a rider's push varies by a quarter.
/// Ignores:   tyre slip and a lifting front wheel, which end most starts near 25 to 30 %; heat of
///            the motor on long slopes.
/// Errors:    kOutOfRange.
[[nodiscard]] Result<double> steepest_start(const HillStart& start);

/// Mean push of a seated rider along the pedal's circle: half of the body's weight on the pedal,
/// times 2/pi for a whole turn. Source: [hill-start]. Errors: kOutOfRange (10 to 250 kg).
[[nodiscard]] Result<Force> seated_push(Mass rider);

}  // namespace rollwright::mech
