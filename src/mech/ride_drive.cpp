#include "mech/ride_drive.hpp"

#include <numbers>

namespace rollwright::mech {
namespace {

/// 1 up to `from`, 0 from `to` on, straight between.
ValueAndSlope falling_share(double speed, double from, double to) {
  if (speed <= from) return {1, 0};
  if (speed >= to) return {0, 0};
  return {(to - speed) / (to - from), -1 / (to - from)};
}

ValueAndSlope product(const ValueAndSlope& a, const ValueAndSlope& b) {
  return {a.value * b.value, a.slope * b.value + a.value * b.slope};
}

/// Force of a power at a speed.
ValueAndSlope force_of(const ValueAndSlope& watts, double speed) {
  const double inverse = 1 / speed;
  const double force = watts.value * inverse;
  return {force, (watts.slope - force) * inverse};
}

}  // namespace

RideDrive::RideDrive(const Ride& ride)
    : motor_(ride.bike.motor.value_or(Motor{})),
      motor_on_(ride.bike.motor.has_value()),
      throttle_(ride.law.throttle),
      motor_efficiency_(motor_.place == MotorPlace::kCranks ? ride.bike.road.drive_efficiency : 1),
      rider_watts_(ride.rider.power.typical.in(watt)),
      rider_efficiency_(ride.bike.road.drive_efficiency),
      eases_from_(ride.rider.eases_from.in(metre_per_second)),
      most_speed_(ride.rider.most_speed.in(metre_per_second)),
      fades_from_(ride.law.fades_from.in(metre_per_second)),
      help_ends_(ride.law.help_ends.in(metre_per_second)),
      wheel_radius_(ride.bike.wheel_diameter.in(metre) / 2),
      cranks_wanted_(ride.rider.turns_per_min * 2 * std::numbers::pi / 60),
      low_gear_(ride.bike.low_gear.in(metre) / (2 * std::numbers::pi)),
      high_gear_(ride.bike.high_gear.in(metre) / (2 * std::numbers::pi)) {}

ValueAndSlope RideDrive::pedalling(double speed) const {
  return falling_share(speed, eases_from_, most_speed_);
}

ValueAndSlope RideDrive::help(double speed) const {
  return falling_share(speed, fades_from_, help_ends_);
}

/// Radians per second of the motor's shaft.
ValueAndSlope RideDrive::turning(double speed) const {
  if (motor_.place == MotorPlace::kWheel) return {speed / wheel_radius_, 1 / wheel_radius_};
  if (speed < cranks_wanted_ * low_gear_) return {speed / low_gear_, 1 / low_gear_};
  if (speed > cranks_wanted_ * high_gear_) return {speed / high_gear_, 1 / high_gear_};
  return {cranks_wanted_, 0};
}

ValueAndSlope RideDrive::rider_pull(double speed) const {
  const ValueAndSlope share = pedalling(speed);
  const double watts = rider_watts_ * rider_efficiency_;
  return force_of({watts * share.value, watts * share.slope}, speed);
}

ValueAndSlope RideDrive::pull_by_power(double speed) const {
  const double most = motor_.most.in(watt);
  ValueAndSlope watts{most, 0};
  if (!throttle_) {
    const ValueAndSlope share = pedalling(speed);
    const double wanted = motor_.support * rider_watts_;
    if (wanted * share.value < most) watts = {wanted * share.value, wanted * share.slope};
  }
  return force_of(watts, speed);
}

ValueAndSlope RideDrive::pull_by_torque(double speed) const {
  const ValueAndSlope turns = turning(speed);
  const ValueAndSlope by_turns = most_motor_torque(motor_, turns.value);
  return force_of(product({by_turns.value, by_turns.slope * turns.slope}, turns), speed);
}

ValueAndSlope RideDrive::motor_pull(double speed) const {
  if (!motor_on_ || speed >= help_ends_) return {};
  const ValueAndSlope by_power = pull_by_power(speed);
  const ValueAndSlope by_torque = pull_by_torque(speed);
  const ValueAndSlope pull = by_power.value < by_torque.value ? by_power : by_torque;
  return product(product(pull, help(speed)), {motor_efficiency_, 0});
}

ValueAndSlope RideDrive::pull(double speed) const {
  const ValueAndSlope rider = rider_pull(speed);
  const ValueAndSlope motor = motor_pull(speed);
  return {rider.value + motor.value, rider.slope + motor.slope};
}

double RideDrive::battery_watts(double motor_pull, double speed) const {
  if (!(motor_pull > 0)) return 0;
  return motor_input_watts(motor_, motor_pull * speed / motor_efficiency_, turning(speed).value);
}

}  // namespace rollwright::mech
