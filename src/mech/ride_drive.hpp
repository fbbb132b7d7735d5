#pragma once

#include "mech/ride_setup.hpp"

namespace rollwright::mech {

/// Rider and motor as they pull at the wheel, in plain numbers: newtons at metres per second.
///
/// The pull of each falls with speed, or stays: full power from walking speed on, the rider easing
/// towards her greatest speed, the motor's help fading by law, its torque limited by current and
/// voltage at the turns that the gears give it. A throttle gives all it has.
///
/// Invariants: neither pull ever rises with speed, so that every step of a ride has one answer.
class RideDrive {
 public:
  explicit RideDrive(const Ride& ride);

  /// Below this a rider walks, m/s.
  static constexpr double kWalking = 1.0;

  void stop_motor() { motor_on_ = false; }
  [[nodiscard]] ValueAndSlope rider_pull(double speed) const;
  [[nodiscard]] ValueAndSlope motor_pull(double speed) const;
  [[nodiscard]] ValueAndSlope pull(double speed) const;

  /// What the battery gives for a pull of the motor, W, without the electronics.
  [[nodiscard]] double battery_watts(double motor_pull, double speed) const;
  /// Power at the motor's shaft over power at the wheel.
  [[nodiscard]] double motor_share_at_wheel() const { return motor_efficiency_; }

 private:
  [[nodiscard]] ValueAndSlope pedalling(double speed) const;
  [[nodiscard]] ValueAndSlope turning(double speed) const;
  [[nodiscard]] ValueAndSlope pull_by_power(double speed) const;
  [[nodiscard]] ValueAndSlope pull_by_torque(double speed) const;
  [[nodiscard]] ValueAndSlope help(double speed) const;

  Motor motor_;
  bool motor_on_;
  bool throttle_;
  double motor_efficiency_;  // from its shaft to the wheel
  double rider_watts_;       // at the pedals
  double rider_efficiency_;
  double eases_from_, most_speed_;
  double fades_from_, help_ends_;
  double wheel_radius_;
  double cranks_wanted_;  // radians per second
  double low_gear_, high_gear_;  // metres per radian of the cranks
};

}  // namespace rollwright::mech
