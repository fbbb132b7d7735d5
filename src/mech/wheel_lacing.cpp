#include "mech/wheel_lacing.hpp"

#include <fmt/format.h>

#include <cmath>
#include <numbers>

#include "base/index.hpp"

namespace rollwright::mech {
namespace {

constexpr double kTurn = 2 * std::numbers::pi;

/// Unit vector of the pull in (left, towards the axle, along growing angles) at the nipple.
void point_at_hub(const SpokeEnds& ends, WheelSpoke& spoke) {
  const double hub = ends.hub_radius.in(mm);
  const double rim = ends.rim_radius.in(mm);
  const double ahead = (ends.hub_angle - ends.rim_angle).in(radian);
  const double path = spoke.path.in(mm);
  spoke.lateral = (ends.hub_across - ends.rim_across).in(mm) / path;
  spoke.radial = (rim - hub * std::cos(ahead)) / path;
  spoke.tangential = hub * std::sin(ahead) / path;
}

/// Which flange each nipple of an evenly drilled rim belongs to.
std::vector<WheelEnd> sides_around(int left, int right) {
  std::vector<WheelEnd> sides;
  const int groups = std::min(left, right);
  for (int group = 0; group < groups; ++group) {
    for (int i = 0; i < left / groups; ++i) sides.push_back(WheelEnd::kLeft);
    for (int i = 0; i < right / groups; ++i) sides.push_back(WheelEnd::kRight);
  }
  return sides;
}

SpokeSeat seat_of(const LacedWheel& wheel, WheelEnd end, double rim_angle, int on_flange) {
  const bool left = end == WheelEnd::kLeft;
  const LacedSide& side = left ? wheel.left : wheel.right;
  const double ahead = kTurn * side.flange.crosses / side.flange.holes;
  const double way = on_flange % 2 == 0 ? 1 : -1;
  return {.ends = {.hub_radius = side.flange.circle / 2,
                   .hub_angle = (rim_angle + way * ahead) * radian,
                   .hub_across = left ? side.flange.offset : -side.flange.offset,
                   .rim_radius = wheel.nipple_circle / 2,
                   .rim_angle = rim_angle * radian,
                   .rim_across = wheel.nipples_towards_left,
                   .seat_correction = {}},
          .end = end,
          .rigidity = side.rigidity,
          .tension = side.tension};
}

}  // namespace

Result<std::vector<WheelSpoke>> spokes_in_place(const std::vector<SpokeSeat>& seats) {
  std::vector<WheelSpoke> spokes;
  for (const SpokeSeat& seat : seats) {
    const auto line = spoke_between(seat.ends);
    if (!line) {
      Error error = line.error();
      error.sentence = fmt::format("Spoke {}: {}", spokes.size() + 1, error.sentence);
      return std::unexpected(error);
    }
    WheelSpoke spoke{.at = seat.ends.rim_angle,
                     .end = seat.end,
                     .path = line->path,
                     .rigidity = seat.rigidity,
                     .tension = seat.tension};
    point_at_hub(seat.ends, spoke);
    if (!spokes.empty() && !(spokes.back().at < spoke.at &&
                             (spoke.at - spokes.front().at).in(radian) < kTurn - 1e-6)) {
      return refuse(Code::kContradiction,
                    fmt::format("Nipple {} does not come after the one before it on the way once "
                                "around the rim.",
                                spokes.size() + 1),
                    {.field = "rim angle"});
    }
    spokes.push_back(spoke);
  }
  return spokes;
}

Result<std::vector<WheelSpoke>> laced(const LacedWheel& wheel) {
  const auto fits = wheel_spokes({.left = wheel.left.flange,
                                  .right = wheel.right.flange,
                                  .rim_diameter = wheel.nipple_circle,
                                  .nipples_towards_left = wheel.nipples_towards_left});
  if (!fits) return std::unexpected(fits.error());
  const auto sides = sides_around(wheel.left.flange.holes, wheel.right.flange.holes);
  std::vector<SpokeSeat> seats;
  int on_flange[2] = {0, 0};
  for (std::size_t i = 0; i < sides.size(); ++i) {
    const double angle = kTurn * static_cast<double>(i) / static_cast<double>(sides.size());
    int& count = on_flange[sides[i] == WheelEnd::kRight ? 1 : 0];
    seats.push_back(seat_of(wheel, sides[i], angle, count++));
  }
  return spokes_in_place(seats);
}

}  // namespace rollwright::mech
