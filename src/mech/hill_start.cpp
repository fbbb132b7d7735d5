#include "mech/hill_start.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

#include "mech/field_range.hpp"
#include "mech/gravity.hpp"

namespace rollwright::mech {
namespace {

constexpr double kSteepestShown = 1;  // rise over run: 45 degrees
constexpr double kHighestGear = 10;   // wheel turns for one turn of the cranks

/// Torques of rider and motor over the gear, as pulls at the tyre's edge, N.
struct StartPull {
  double by_cranks;
  double by_wheel;
};

StartPull pull_of(const HillStart& start) {
  const double radius = start.wheel_diameter.in(metre) / 2;
  const double at_cranks =
      start.push.in(newton) * start.crank.in(metre) + start.motor.in(newton_metre);
  const double gear = start.front / start.rear * start.hub_ratio;
  return {at_cranks * start.drive_efficiency / gear / radius,
          start.wheel_motor.in(newton_metre) / radius};
}

/// The slope at which a wheel that bears `bears` and `leans` of the weight's parts across and along
/// the road slips: share of the pull * (sin + rolling cos) = grip * (bears cos + leans sin).
double slipping_slope(double share, double rolling, double grip, double bears, double leans) {
  if (share == 0) return kSteepestShown;  // nothing pulls there
  const double gains = share - grip * leans;  // for each unit of slope
  const double has = grip * bears - share * rolling;
  if (has <= 0) return 0;
  return gains * kSteepestShown <= has ? kSteepestShown : has / gains;
}

double grip_slope(const HillStart& start, const StartStance& stance) {
  const double ahead = stance.mass_ahead / stance.wheelbase;
  const double high = stance.mass_height / stance.wheelbase;
  const StartPull pull = pull_of(start);
  const double all = pull.by_cranks + pull.by_wheel;
  const double in_front = stance.front_driven && all > 0 ? pull.by_wheel / all : 0;
  const double behind =
      slipping_slope(1 - in_front, start.rolling, stance.grip, 1 - ahead, high);
  return std::min(behind, slipping_slope(in_front, start.rolling, stance.grip, ahead, -high));
}

std::optional<Error> stance_problem(const StartStance& stance) {
  if (auto error =
          first_outside({{"wheelbase", stance.wheelbase.in(mm), 600, 2600, "mm"},
                         {"mass ahead of the rear axle", stance.mass_ahead.in(mm), 0, 2600, "mm"},
                         {"height of the mass", stance.mass_height.in(mm), 300, 1800, "mm"},
                         {"grip", stance.grip, 0.05, 1.2, ""}})) {
    return error;
  }
  if (stance.mass_ahead <= stance.wheelbase) return std::nullopt;
  return Error{Code::kContradiction, "The mass of bike and rider lies between the wheels.",
               Place{.field = "mass ahead of the rear axle"}};
}

std::optional<Error> start_problem(const HillStart& start) {
  return first_outside(
      {{"front teeth", start.front, 6, 130, ""},
       {"rear teeth", start.rear, 6, 130, ""},
       {"ratio of the hub", start.hub_ratio, 0.1, 10, ""},
       {"wheel diameter", start.wheel_diameter.in(mm), 200, 1000, "mm"},
       {"crank length", start.crank.in(mm), 80, 220, "mm"},
       {"push on the pedal", start.push.in(newton), 0, 1500, "N"},
       {"motor torque", start.motor.in(newton_metre), 0, 250, "N·m"},
       {"bike, rider and luggage", start.whole.in(kg), 20, 500, "kg"},
       {"rolling resistance", start.rolling, 0, 0.05, ""},
       {"efficiency of the drive", start.drive_efficiency, 0.7, 1, ""},
       {"torque of the wheel's motor", start.wheel_motor.in(newton_metre), 0, 250, "N·m"}});
}

}  // namespace

Result<double> steepest_start(const HillStart& start) {
  if (auto error = start_problem(start)) return std::unexpected(*std::move(error));
  const StartPull pulls = pull_of(start);
  const double pull = pulls.by_cranks + pulls.by_wheel;
  // pull = weight * (sin + rolling * cos) = weight * sqrt(1 + rolling²) * sin(slope + atan(rolling))
  const double share = pull / (start.whole.in(kg) * kGravity * std::hypot(1, start.rolling));
  const double steepest_shown = std::atan(kSteepestShown);
  const double whole_angle = share < 1 ? std::asin(share) : std::numbers::pi / 2;
  const double slope = whole_angle - std::atan(start.rolling);
  if (slope <= 0) return 0.0;  // not even on the level
  return slope >= steepest_shown ? kSteepestShown : std::tan(slope);
}

Result<StartLimits> start_limits(const HillStart& start, const StartStance& stance) {
  const auto by_torque = steepest_start(start);
  if (!by_torque) return std::unexpected(by_torque.error());
  if (auto error = stance_problem(stance)) return std::unexpected(*std::move(error));
  StartLimits limits{.by_torque = *by_torque,
                     .by_grip = grip_slope(start, stance),
                     .by_front_wheel = std::min(kSteepestShown,
                                                stance.mass_ahead / stance.mass_height)};
  limits.steepest = limits.by_torque;
  if (limits.by_front_wheel < limits.steepest) {
    limits.steepest = limits.by_front_wheel;
    limits.limit = StartLimit::kFrontWheel;
  }
  if (limits.by_grip < limits.steepest) {
    limits.steepest = limits.by_grip;
    limits.limit = StartLimit::kGrip;
  }
  return limits;
}

Result<double> highest_start_gear(const HillStart& start, double slope) {
  HillStart level = start;
  level.front = level.rear = 20;  // one to one
  level.hub_ratio = 1;
  if (auto error = start_problem(level)) return std::unexpected(*std::move(error));
  if (auto error = first_outside({{"slope", slope, 0, kSteepestShown, ""}})) {
    return std::unexpected(*std::move(error));
  }
  const StartPull pull = pull_of(level);
  const double needed =
      start.whole.in(kg) * kGravity * (slope + start.rolling) / std::hypot(1, slope);
  const double missing = needed - pull.by_wheel;
  if (missing <= 0) return kHighestGear;
  if (pull.by_cranks > 0) return std::min(kHighestGear, pull.by_cranks / missing);
  return refuse(Code::kNotFound, "Nothing turns the cranks, so no gear starts on this slope.");
}

Result<Force> seated_push(Mass rider) {
  if (auto error = first_outside({{"rider", rider.in(kg), 10, 250, "kg"}})) {
    return std::unexpected(*std::move(error));
  }
  return rider.in(kg) * kGravity / 2 * (2 / std::numbers::pi) * newton;
}

}  // namespace rollwright::mech
