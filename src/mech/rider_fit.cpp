#include "mech/rider_fit.hpp"

#include <cmath>
#include <numbers>

#include "mech/field_range.hpp"

namespace rollwright::mech {
namespace {

// [saddle-height]
constexpr double kOfInseamByBracket = 0.883;
constexpr double kOfInseamByPedal = 1.09;

}  // namespace

Result<SaddleHeight> saddle_height(Length inseam, Length crank) {
  if (auto error = first_outside({{"inseam", inseam.in(mm), 300, 1200, "mm"},
                                  {"crank length", crank.in(mm), 80, 220, "mm"}})) {
    return std::unexpected(*error);
  }
  const Length by_pedal = kOfInseamByPedal * inseam;
  return SaddleHeight{kOfInseamByBracket * inseam, by_pedal, by_pedal - crank};
}

Result<Standover> standover(Length inseam, Length tube_over_ground, Length wanted) {
  if (auto error =
          first_outside({{"inseam", inseam.in(mm), 300, 1200, "mm"},
                         {"top tube over ground", tube_over_ground.in(mm), 200, 1200, "mm"},
                         {"wanted room", wanted.in(mm), 0, 200, "mm"}})) {
    return std::unexpected(*error);
  }
  const Length room = inseam - tube_over_ground;
  return Standover{room, room >= wanted};
}

Result<SidePoint> saddle_point(const SaddlePost& post) {
  if (auto error = first_outside({{"saddle height", post.height.in(mm), 200, 1100, "mm"},
                                  {"seat angle", post.seat_angle.in(degree), 55, 90, "degrees"}})) {
    return std::unexpected(*error);
  }
  const double angle = post.seat_angle.in(radian);
  return SidePoint{-std::cos(angle) * post.height, std::sin(angle) * post.height};
}

Result<SidePoint> bar_point(const Cockpit& cockpit) {
  if (auto error =
          first_outside({{"stack", cockpit.stack.in(mm), 250, 900, "mm"},
                         {"reach", cockpit.reach.in(mm), 150, 700, "mm"},
                         {"head angle", cockpit.head_angle.in(degree), 50, 85, "degrees"},
                         {"spacers", cockpit.spacers.in(mm), 0, 250, "mm"},
                         {"stem length", cockpit.stem.in(mm), 0, 200, "mm"},
                         {"stem angle", cockpit.stem_angle.in(degree), -40, 60, "degrees"}})) {
    return std::unexpected(*error);
  }
  const double head = cockpit.head_angle.in(radian);
  const double rise = std::numbers::pi / 2 - head + cockpit.stem_angle.in(radian);
  return SidePoint{
      cockpit.reach - std::cos(head) * cockpit.spacers + std::cos(rise) * cockpit.stem,
      cockpit.stack + std::sin(head) * cockpit.spacers + std::sin(rise) * cockpit.stem};
}

}  // namespace rollwright::mech
