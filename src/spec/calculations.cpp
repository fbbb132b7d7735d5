#include "spec/calculations.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "mech/belt.hpp"
#include "mech/hill_start.hpp"
#include "mech/pedal_room.hpp"
#include "mech/ride_energy.hpp"
#include "mech/saddle_post.hpp"
#include "mech/spoke_length.hpp"
#include "mech/tyre.hpp"

namespace rollwright::spec {

namespace {

/// Teeth are whole numbers; files hold them as numbers like everything else.
int whole(double number) { return static_cast<int>(std::lround(number)); }

Result<double> belt_centre_distance(std::span<const double> a) {
  const mech::BeltDrive drive{.front = whole(a[0]), .rear = whole(a[1]), .pitch = a[3] * mm};
  const Result<mech::BeltRun> run = mech::belt_run(drive, whole(a[2]));
  if (!run) return std::unexpected(run.error());
  return run->centre_distance.in(mm);
}

Result<double> primary_ratio(std::span<const double> teeth) {
  if (!(teeth[1] > 0)) return refuse(Code::kOutOfRange, "a sprocket has at least one tooth");
  return teeth[0] / teeth[1];
}

/// What a derailleur must be able to take up: the span of the cogs and the span of the rings.
Result<double> derailleur_capacity(std::span<const double> teeth) {
  return (teeth[0] - teeth[1]) + (teeth[2] - teeth[3]);
}

/// Everything that is stacked on the fork's steerer, from the crown to the top of the stem.
Result<double> steerer_needed(std::span<const double> heights) {
  return std::accumulate(heights.begin(), heights.end(), 0.0);
}

/// Where the nipples stand, towards this flange. A rim's offset is stated towards the right of the
/// rear wheel; a front rim is laced so that its nipples stand away from the flange that is nearer to
/// the middle (mech/spoke_length.hpp, and the length on the build's sheet, mean the same).
Length nipples_towards(Length own_flange, Length other_flange, Length rim_offset, bool front,
                       bool left) {
  if (!front || own_flange == other_flange) return left ? -rim_offset : rim_offset;
  const Length away = std::max(rim_offset, -rim_offset);
  return own_flange < other_flange ? -away : away;
}

Result<double> spoke_over(std::span<const double> a, bool front, bool left) {
  const mech::WheelSide side{
      .flange_circle = a[0] * mm,
      .flange_offset = a[1] * mm,
      .rim_diameter = a[5] * mm,
      .nipples_towards = nipples_towards(a[1] * mm, a[2] * mm, a[6] * mm, front, left),
      .spoke_hole = a[3] * mm,
      .holes = whole(a[4]) / 2,
      .crosses = a[7]};
  const Result<mech::SpokeLine> line = mech::spoke_length(side);
  if (!line) return std::unexpected(line.error());
  return a[8] - line->length.in(mm);
}

Result<double> spoke_over_front_left(std::span<const double> a) {
  return spoke_over(a, true, true);
}
Result<double> spoke_over_front_right(std::span<const double> a) {
  return spoke_over(a, true, false);
}
Result<double> spoke_over_rear_left(std::span<const double> a) {
  return spoke_over(a, false, true);
}
Result<double> spoke_over_rear_right(std::span<const double> a) {
  return spoke_over(a, false, false);
}

Result<double> wheel_circumference(std::span<const double> a) {
  return mech::tyre_circumference({.width = a[1] * mm, .bead_seat = a[0] * mm}).in(mm);
}

Result<double> in_mm(const Result<Length>& length) {
  if (!length) return std::unexpected(length.error());
  return length->in(mm);
}

Result<double> toe_room(std::span<const double> a) {
  return in_mm(mech::toe_room({a[0] * mm, a[1] * mm, a[2] * mm, a[3] * mm}));
}

Result<double> pedal_lean(std::span<const double> a) {
  const Result<Angle> lean = mech::pedal_lean(
      {a[0] * mm, a[1] * mm, a[2] * mm, a[3] * mm, a[4] * mm, a[5] * mm, a[6] * mm});
  if (!lean) return std::unexpected(lean.error());
  return lean->in(radian);
}

Result<double> post_insertion(std::span<const double> a) {
  return in_mm(mech::post_insertion({a[0] * mm, a[1] * mm, a[2] * mm, a[3] * mm}));
}

Result<double> dropper_room(std::span<const double> a) {
  return in_mm(mech::dropper_room({a[0] * mm, a[1] * mm, a[2] * mm, a[3] * mm}, a[4] * mm));
}

/// How much further behind the original place the rider comes to sit.
Result<double> setback_change(std::span<const double> a) { return a[0] + a[1] - a[2]; }

/// Energy that a battery must be printed with for the ride.
Result<double> charge_needed(std::span<const double> a) {
  const double usable = a[9] / 100;
  if (!(0 < usable && usable <= 1)) {
    return refuse(Code::kOutOfRange, "the usable share of a battery is over 0, at most 100 %");
  }
  const Result<mech::RideEnergy> energy =
      mech::ride_energy({.length = a[0] * mm,
                         .climb = a[1] * mm,
                         .whole = (a[2] + a[3]) * kg,
                         .rolling = a[4],
                         .drag_area = a[5],
                         .speed = a[6] * metre_per_second,
                         .rider = a[7] * watt,
                         .motor_efficiency = a[8] / 100});
  if (!energy) return std::unexpected(energy.error());
  return energy->battery.in(watt_hour) / usable;
}

Result<double> steepest_start(std::span<const double> a) {
  const Result<Force> push = mech::seated_push(a[6] * kg);
  if (!push) return std::unexpected(push.error());
  const Result<double> slope = mech::steepest_start(
      {.front = a[0],
       .rear = a[1],
       .hub_ratio = a[2],
       .wheel_diameter = mech::tyre_diameter({.width = a[4] * mm, .bead_seat = a[3] * mm}),
       .crank = a[5] * mm,
       .push = *push,
       .motor = a[7] * newton_metre,
       .whole = (a[8] + a[9]) * kg});
  if (!slope) return std::unexpected(slope.error());
  return *slope * 100;
}

}  // namespace

const std::vector<Calculation>& calculations() {
  static const std::vector<Calculation> kRows = {
      {"belt_centre_distance_mm", belt_centre_distance},
      {"primary_ratio", primary_ratio},
      {"derailleur_capacity", derailleur_capacity},
      {"steerer_needed_mm", steerer_needed},
      {"spoke_over_front_left", spoke_over_front_left},
      {"spoke_over_front_right", spoke_over_front_right},
      {"spoke_over_rear_left", spoke_over_rear_left},
      {"spoke_over_rear_right", spoke_over_rear_right},
      {"wheel_circumference", wheel_circumference},
      {"toe_room", toe_room},
      {"pedal_lean", pedal_lean},
      {"post_insertion", post_insertion},
      {"dropper_room", dropper_room},
      {"setback_change", setback_change},
      {"charge_needed", charge_needed},
      {"steepest_start", steepest_start},
  };
  return kRows;
}

const Calculation* find_calculation(std::string_view name) {
  const auto& rows = calculations();
  const auto found = std::ranges::find(rows, name, &Calculation::name);
  return found == rows.end() ? nullptr : &*found;
}

}  // namespace rollwright::spec
