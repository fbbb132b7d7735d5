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
  Torque wheel_motor = {};        // of a motor in the driven wheel, 0 to 250 N·m
};

/// The steepest slope (rise over run, 0.12 is 12 %) on which a bike can be started and kept going.
///
/// Method:    torque at the cranks over the gear gives the pull at the tyre; the slope is the one
///            whose downhill force and rolling resistance equal it. At most 1.
/// Source:    [hill-start] in docs/sources.md.
/// Accuracy:  the pull is exact for the torques given; a rider's push varies by a quarter.
/// Ignores:   tyre slip and a lifting front wheel (start_limits); heat of the motor on long slopes.
/// Errors:    kOutOfRange.
[[nodiscard]] Result<double> steepest_start(const HillStart& start);

/// How bike and rider stand over the wheels.
struct StartStance {
  Length wheelbase;          // 600 to 2600 mm
  Length mass_ahead;         // centre of the whole mass ahead of the rear axle, 0 to the wheelbase
  Length mass_height;        // and over the ground, 300 to 1800 mm
  double grip = 0.7;         // tyre on the road: dry tarmac 0.7, wet 0.5, gravel 0.4; 0.05 to 1.2
  bool front_driven = false; // a motor in the front wheel: grip counts there, for its share alone
};

enum class StartLimit {
  kTorque,     // rider, motor and gear give no more
  kGrip,       // the driven tyre slips
  kFrontWheel  // the front wheel lifts
};

/// What ends a start on a slope. Slopes as rise over run, at most 1.
struct StartLimits {
  double by_torque = 0;
  double by_grip = 0;
  double by_front_wheel = 0;
  double steepest = 0;  // the least of the three
  StartLimit limit = StartLimit::kTorque;
};

/// The steepest slope on which the bike can be started, with what ends it.
///
/// Method:    torque as steepest_start; moments about the rear wheel's contact for the load on each
///            wheel, without acceleration; the driven wheel slips where the pull needed passes grip
///            times its load; the front wheel lifts where its load is gone. With a driven front
///            wheel the motor's share of the pull is held against the grip in front, the rest
///            against that behind.
/// Source:    [hill-start], [tyre-grip] in docs/sources.md.
/// Accuracy:  exact for the numbers given. A jerk of the rider's lifts or slips earlier: keep a
///            fifth in hand.
/// Ignores:   acceleration, the rider leaning forward, tyre pressure.
/// Errors:    kOutOfRange; kContradiction for a mass outside the wheelbase.
[[nodiscard]] Result<StartLimits> start_limits(const HillStart& start, const StartStance& stance);

/// The highest gear (wheel turns for one turn of the cranks) that still starts on a slope (0 to 1,
/// rise over run); the gear in `start` is not read. At most 10, also where a motor in the wheel
/// needs no help. Method, source, accuracy: as steepest_start.
/// Errors:    kOutOfRange; kNotFound when no gear helps, because nothing turns the cranks.
[[nodiscard]] Result<double> highest_start_gear(const HillStart& start, double slope);

/// Mean push of a seated rider along the pedal's circle: half of the body's weight on the pedal,
/// times 2/pi for a whole turn. Source: [hill-start]. Errors: kOutOfRange (10 to 250 kg).
[[nodiscard]] Result<Force> seated_push(Mass rider);

}  // namespace rollwright::mech
