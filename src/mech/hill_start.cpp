#include "mech/hill_start.hpp"

#include "mech/gravity.hpp"

#include <cmath>
#include <numbers>

#include "mech/field_range.hpp"

namespace rollwright::mech {
namespace {


}  // namespace

Result<double> steepest_start(const HillStart& start) {
  if (auto error =
          first_outside({{"front teeth", start.front, 6, 130, ""},
                         {"rear teeth", start.rear, 6, 130, ""},
                         {"ratio of the hub", start.hub_ratio, 0.1, 10, ""},
                         {"wheel diameter", start.wheel_diameter.in(mm), 200, 1000, "mm"},
                         {"crank length", start.crank.in(mm), 80, 220, "mm"},
                         {"push on the pedal", start.push.in(newton), 0, 1500, "N"},
                         {"motor torque", start.motor.in(newton_metre), 0, 250, "N·m"},
                         {"bike, rider and luggage", start.whole.in(kg), 20, 500, "kg"},
                         {"rolling resistance", start.rolling, 0, 0.05, ""},
                         {"efficiency of the drive", start.drive_efficiency, 0.7, 1, ""}})) {
    return std::unexpected(*std::move(error));
  }
  const double at_cranks = start.push.in(newton) * start.crank.in(metre) +
                           start.motor.in(newton_metre);
  const double gear = start.front / start.rear * start.hub_ratio;
  const double pull =
      at_cranks * start.drive_efficiency / gear / (start.wheel_diameter.in(metre) / 2);
  // pull = weight * (sin + rolling * cos) = weight * sqrt(1 + rolling²) * sin(slope + atan(rolling))
  const double share = pull / (start.whole.in(kg) * kGravity * std::hypot(1, start.rolling));
  const double steepest_shown = std::numbers::pi / 4;  // a slope of 1
  const double whole_angle = share < 1 ? std::asin(share) : std::numbers::pi / 2;
  const double slope = whole_angle - std::atan(start.rolling);
  if (slope <= 0) return 0.0;  // not even on the level
  return slope >= steepest_shown ? 1.0 : std::tan(slope);
}

Result<Force> seated_push(Mass rider) {
  if (auto error = first_outside({{"rider", rider.in(kg), 10, 250, "kg"}})) {
    return std::unexpected(*std::move(error));
  }
  return rider.in(kg) * kGravity / 2 * (2 / std::numbers::pi) * newton;
}

}  // namespace rollwright::mech
