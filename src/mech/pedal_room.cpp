#include "mech/pedal_room.hpp"

#include <cmath>

#include "mech/field_range.hpp"

namespace rollwright::mech {

Result<Length> toe_room(const ToeRoom& room) {
  if (auto error = first_outside({{"front centre", room.front_centre.in(mm), 400, 2200, "mm"},
                                  {"bead seat", room.bead_seat.in(mm), 150, 800, "mm"},
                                  {"tyre width", room.tyre_width.in(mm), 10, 150, "mm"},
                                  {"crank length", room.crank.in(mm), 80, 220, "mm"}})) {
    return std::unexpected(*std::move(error));
  }
  return room.front_centre - room.bead_seat * 0.5 - room.tyre_width - room.crank;
}

Result<Angle> pedal_lean(const PedalLean& lean) {
  if (auto error =
          first_outside({{"bracket drop", lean.bracket_drop.in(mm), -150, 150, "mm"},
                         {"bead seat", lean.bead_seat.in(mm), 150, 800, "mm"},
                         {"tyre width", lean.tyre_width.in(mm), 10, 150, "mm"},
                         {"crank length", lean.crank.in(mm), 80, 220, "mm"},
                         {"stance width", lean.stance.in(mm), 80, 300, "mm"},
                         {"pedal width", lean.pedal_width.in(mm), 30, 200, "mm"},
                         {"pedal thickness", lean.pedal_thickness.in(mm), 5, 60, "mm"}})) {
    return std::unexpected(*std::move(error));
  }
  const double tread = lean.tyre_width.in(mm) / 2;  // radius of the tread across the bike
  const double bracket =
      lean.bead_seat.in(mm) / 2 + lean.tyre_width.in(mm) - lean.bracket_drop.in(mm);
  const double up = bracket - lean.crank.in(mm) - lean.pedal_thickness.in(mm) / 2;
  const double out = lean.stance.in(mm) / 2 + lean.pedal_width.in(mm);
  if (up <= 0) {
    return refuse(Code::kContradiction, "the pedal touches the ground with the bike upright");
  }
  // Height of the edge over a ground leaned by a: (up - tread) cos a - out sin a + tread = 0.
  const double reach = std::hypot(up - tread, out);
  const double phase = std::atan2(out, up - tread);
  // cos(a + phase) = -tread / reach has its first root beyond a = 0 while the edge is above ground.
  return (std::acos(-tread / reach) - phase) * radian;
}

}  // namespace rollwright::mech
