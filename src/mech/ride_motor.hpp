#pragma once

#include <optional>

#include "base/result.hpp"
#include "mech/ride_root.hpp"
#include "units/quantity.hpp"

namespace rollwright::mech {

enum class MotorPlace {
  kCranks,  // drives through the bike's gears
  kWheel,   // drives its wheel with one fixed ratio
};

/// A direct-current motor with its gears, everything seen from the shaft that it drives (cranks or
/// wheel). The electrical numbers are rarely printed; `motor_by_print` reckons them from what is.
struct Motor {
  MotorPlace place = MotorPlace::kCranks;
  Power most = 500 * watt;             // mechanical, 50 to 5000 W; short peaks, not the rated power
  double support = 2;                  // motor's power over the rider's, 0 to 10
  Torque per_ampere = newton_metre;    // torque constant, 0.05 to 20 N·m
  double resistance_ohm = 0.2;         // windings, cables and bridge, 0.005 to 5
  Current idle = 0.5 * ampere;         // without load, 0 to 10 A
  Current most_current = 20 * ampere;  // 1 to 300 A
  Voltage supply = 36 * volt;          // 12 to 100 V
  double controller = 0.95;            // efficiency of controller and battery, 0.5 to 1
};

/// What is printed or can be measured of a motor with its gears.
struct MotorPrint {
  MotorPlace place = MotorPlace::kCranks;
  Power most;                     // as in Motor
  double support = 2;             // as in Motor
  Torque most_torque;             // at cranks or wheel, 5 to 250 N·m
  double free_turns_per_min = 0;  // of cranks or wheel without load, 50 to 1000
  Voltage supply;                 // 12 to 100 V
  Power idle = 30 * watt;         // taken without load, 1 to 200 W
  double best_efficiency = 0.85;  // at the motor's best point, 0.6 to 0.95
};

/// A motor with the printed figures.
///
/// Method:    the motor equations torque = k (I - I0), voltage = k turns + R I. Idle power gives
///            I0, the best efficiency (1 - sqrt(I0 R / U))² gives R, the free turns give k, the most
///            torque gives the most current.
/// Source:    [dc-motor] in docs/sources.md.
/// Accuracy:  as good as one k and one R describe motor and gears: 5 points of efficiency.
/// Ignores:   iron losses that rise with turns, heat, field weakening.
/// Errors:    kOutOfRange; kContradiction when the supply cannot drive the current of the most
///            torque through the windings.
[[nodiscard]] Result<Motor> motor_by_print(const MotorPrint& print);

[[nodiscard]] std::optional<Error> motor_problem(const Motor& motor);

/// What a motor takes from the battery to give a mechanical power (0 to 5000 W) at a turning speed
/// of its shaft (over 0, to 1000 turns a minute): U I over the controller's efficiency, nothing
/// when it gives nothing. Source: [dc-motor].
/// Errors: kOutOfRange; kContradiction when it cannot give that power at that speed.
[[nodiscard]] Result<Power> motor_input(const Motor& motor, Power mechanical,
                                        double turns_per_min);

// Plain numbers for the ride model: N·m, radians per second, watts.

/// The most torque at a turning speed, by current and by voltage, with its slope; never negative.
[[nodiscard]] inline ValueAndSlope most_motor_torque(const Motor& motor, double turning) {
  const double k = motor.per_ampere.in(newton_metre);
  const double by_voltage = (motor.supply.in(volt) - k * turning) / motor.resistance_ohm;
  const double limit = motor.most_current.in(ampere);
  const double torque = k * ((by_voltage < limit ? by_voltage : limit) - motor.idle.in(ampere));
  if (!(torque > 0)) return {};
  return {torque, by_voltage < limit ? -k * k / motor.resistance_ohm : 0};
}

[[nodiscard]] inline double motor_input_watts(const Motor& motor, double watts, double turning) {
  if (!(watts > 0)) return 0;
  const double k = motor.per_ampere.in(newton_metre);
  const double current = watts / turning / k + motor.idle.in(ampere);
  return current * (k * turning + motor.resistance_ohm * current) / motor.controller;
}

}  // namespace rollwright::mech
