#include "mech/spoke_crossing.hpp"

#include <cmath>
#include <numbers>

namespace rollwright::mech {

Result<Length> length_to_crossing(const WheelSide& side) {
  const auto line = spoke_length(side);
  if (!line) return std::unexpected(line.error());
  const double hub_angle = 2 * std::numbers::pi * side.crosses / side.holes;
  const double midway = std::numbers::pi / side.holes;
  if (!(hub_angle > midway)) return line->path;
  // How far nipple and hub point stand off the radius midway, on its two sides.
  const double nipple_off = side.rim_diameter.in(mm) / 2 * std::sin(midway);
  const double hub_off = side.flange_circle.in(mm) / 2 * std::sin(hub_angle - midway);
  return nipple_off / (nipple_off + hub_off) * line->path;
}

}  // namespace rollwright::mech
