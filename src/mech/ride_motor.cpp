#include "mech/ride_motor.hpp"

#include <fmt/format.h>

#include <cmath>
#include <numbers>

#include "mech/field_range.hpp"

namespace rollwright::mech {
namespace {

constexpr double kTurnPerMinute = 2 * std::numbers::pi / 60;  // radians per second

std::optional<Error> print_problem(const MotorPrint& print) {
  return first_outside(
      {{"motor's power", print.most.in(watt), 50, 5000, "W"},
       {"support", print.support, 0, 10, ""},
       {"motor's torque", print.most_torque.in(newton_metre), 5, 250, "N·m"},
       {"motor's free turns", print.free_turns_per_min, 50, 1000, "/min"},
       {"voltage of the battery", print.supply.in(volt), 12, 100, "V"},
       {"motor's idle power", print.idle.in(watt), 1, 200, "W"},
       {"motor's best efficiency", print.best_efficiency, 0.6, 0.95, ""}});
}

}  // namespace

Result<Motor> motor_by_print(const MotorPrint& print) {
  if (auto error = print_problem(print)) return std::unexpected(*std::move(error));
  const double volts = print.supply.in(volt);
  const double idle = print.idle.in(watt) / volts;
  const double root = 1 - std::sqrt(print.best_efficiency);
  const double idle_drop = root * root;  // I0 R / U
  const double k = volts * (1 - idle_drop) / (print.free_turns_per_min * kTurnPerMinute);
  Motor motor{.place = print.place,
              .most = print.most,
              .support = print.support,
              .per_ampere = k * newton_metre,
              .resistance_ohm = idle_drop * volts / idle,
              .idle = idle * ampere,
              .most_current = (print.most_torque.in(newton_metre) / k + idle) * ampere,
              .supply = print.supply};
  const double stall = volts / motor.resistance_ohm;
  if (motor.most_current.in(ampere) <= stall) return motor;
  return refuse(Code::kContradiction,
                fmt::format("A motor that turns {:.0f} times a minute without load and takes {:.0f} "
                            "W doing so gives {:.0f} N·m at most; the torque of {:.0f} N·m does not "
                            "go with them.",
                            print.free_turns_per_min, print.idle.in(watt), k * (stall - idle),
                            print.most_torque.in(newton_metre)),
                {.field = "motor's torque"});
}

std::optional<Error> motor_problem(const Motor& motor) {
  return first_outside(
      {{"motor's power", motor.most.in(watt), 50, 5000, "W"},
       {"support", motor.support, 0, 10, ""},
       {"torque for each ampere", motor.per_ampere.in(newton_metre), 0.05, 20, "N·m"},
       {"motor's resistance", motor.resistance_ohm, 0.005, 5, "ohm"},
       {"motor's idle current", motor.idle.in(ampere), 0, 10, "A"},
       {"motor's current", motor.most_current.in(ampere), 1, 300, "A"},
       {"voltage of the battery", motor.supply.in(volt), 12, 100, "V"},
       {"efficiency of the controller", motor.controller, 0.5, 1, ""}});
}

Result<Power> motor_input(const Motor& motor, Power mechanical, double turns_per_min) {
  if (auto error = motor_problem(motor)) return std::unexpected(*std::move(error));
  if (auto error = first_outside({{"power of the motor", mechanical.in(watt), 0, 5000, "W"},
                                  {"turns", turns_per_min, 0.1, 1000, "/min"}})) {
    return std::unexpected(*std::move(error));
  }
  const double turning = turns_per_min * kTurnPerMinute;
  const double most = most_motor_torque(motor, turning).value * turning;
  if (mechanical.in(watt) <= most * (1 + 1e-12)) {
    return motor_input_watts(motor, mechanical.in(watt), turning) * watt;
  }
  return refuse(Code::kContradiction,
                fmt::format("At {:.0f} turns a minute the motor gives {:.0f} W at most.",
                            turns_per_min, most),
                {.field = "power of the motor"});
}

}  // namespace rollwright::mech
