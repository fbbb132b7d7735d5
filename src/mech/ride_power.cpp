#include "mech/ride_power.hpp"

#include <optional>

#include "mech/field_range.hpp"
#include "mech/gravity.hpp"

namespace rollwright::mech {
namespace {

std::optional<Error> road_place_problem(const RoadPlace& place) {
  return first_outside({{"slope", place.slope, -0.6, 0.6, ""},
                        {"head wind", place.head_wind.in(metre_per_second), -40, 40, "m/s"},
                        {"density of the air", place.density_kg_m3, 0.5, 1.6, "kg/m³"}});
}

RoadForces forces_at(const RoadLoad& load, const RoadPlace& place) {
  const double weight = load.whole.in(kg) * kGravity;
  const double cosine = 1 / std::hypot(1, place.slope);
  return {.air = 0.5 * place.density_kg_m3 * (load.drag_area_m2 + load.wheel_drag_area_m2),
          .wind = place.head_wind.in(metre_per_second),
          .rolling = load.rolling * weight * cosine,
          .bearing = load.bearing_n,
          .bearing_rising = load.bearing_n_per_m_s,
          .lift = weight * place.slope * cosine};
}

/// The speed at which the forces vanish, or 0 when they hold the bike at rest.
double rolling_speed(const RoadForces& forces) {
  if (forces.at(0).value >= 0) return 0;
  double high = 1;
  while (forces.at(high).value < 0) high *= 2;
  return rising_root(0, high, high, [&](double v) { return forces.at(v); });
}

}  // namespace

std::optional<Error> road_load_problem(const RoadLoad& load) {
  return first_outside(
      {{"bike, rider and luggage", load.whole.in(kg), 20, 500, "kg"},
       {"drag area", load.drag_area_m2, 0.1, 2, "m²"},
       {"rolling resistance", load.rolling, 0, 0.1, ""},
       {"drag area of the wheels", load.wheel_drag_area_m2, 0, 0.05, "m²"},
       {"bearing force", load.bearing_n, 0, 5, "N"},
       {"rise of the bearing force", load.bearing_n_per_m_s, 0, 1, "N s/m"},
       {"inertia of the wheels", load.wheel_inertia.in(kg), 0, 20, "kg"},
       {"efficiency of the drive", load.drive_efficiency, 0.7, 1, ""}});
}

Result<RoadPower> road_power(const RoadLoad& load, const RoadPlace& place, Speed speed,
                             Power kinetic) {
  if (auto error = road_load_problem(load)) return std::unexpected(*std::move(error));
  if (auto error = road_place_problem(place)) return std::unexpected(*std::move(error));
  const double v = speed.in(metre_per_second);
  if (auto error = first_outside(
          {{"speed", v, 0, 40, "m/s"}, {"kinetic power", kinetic.in(watt), -1e5, 1e5, "W"}})) {
    return std::unexpected(*std::move(error));
  }
  const RoadForces forces = forces_at(load, place);
  RoadPower power{.air = forces.air_force(v) * v * watt,
                  .rolling = forces.rolling * v * watt,
                  .bearing = (forces.bearing + forces.bearing_rising * v) * v * watt,
                  .lift = forces.lift * v * watt,
                  .kinetic = kinetic};
  power.wheel = power.air + power.rolling + power.bearing + power.lift + power.kinetic;
  const Power held = power.wheel;
  (held > Power{} ? power.pedals : power.brakes) =
      held > Power{} ? held / load.drive_efficiency : -held;
  return power;
}

Result<Power> kinetic_power(const RoadLoad& load, Speed from, Speed to, double seconds) {
  if (auto error = road_load_problem(load)) return std::unexpected(*std::move(error));
  const double a = from.in(metre_per_second);
  const double b = to.in(metre_per_second);
  if (auto error = first_outside({{"speed before", a, 0, 40, "m/s"},
                                  {"speed after", b, 0, 40, "m/s"},
                                  {"time", seconds, 1e-3, 1e6, "s"}})) {
    return std::unexpected(*std::move(error));
  }
  const double moved = load.whole.in(kg) + load.wheel_inertia.in(kg);
  return moved * (b - a) * (b + a) / 2 / seconds * watt;
}

Result<Speed> speed_at_power(const RoadLoad& load, const RoadPlace& place, Power pedals) {
  if (auto error = road_load_problem(load)) return std::unexpected(*std::move(error));
  if (auto error = road_place_problem(place)) return std::unexpected(*std::move(error));
  if (auto error = first_outside({{"power at the pedals", pedals.in(watt), 0, 3000, "W"}})) {
    return std::unexpected(*std::move(error));
  }
  const RoadForces forces = forces_at(load, place);
  const double wheel = pedals.in(watt) * load.drive_efficiency;
  const double least = rolling_speed(forces);
  if (wheel == 0) return least * metre_per_second;
  const auto missing = [&](double v) {
    const ValueAndSlope force = forces.at(v);
    return ValueAndSlope{force.value * v - wheel, force.slope * v + force.value};
  };
  double high = least + 1;
  while (missing(high).value < 0) high *= 2;
  return rising_root(least, high, high, missing) * metre_per_second;
}

}  // namespace rollwright::mech
