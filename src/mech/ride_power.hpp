#pragma once

#include <cmath>
#include <optional>

#include "base/result.hpp"
#include "mech/ride_root.hpp"
#include "units/quantity.hpp"

namespace rollwright::mech {

/// A bike with its rider, as the road feels them.
struct RoadLoad {
  Mass whole;                              // bike, rider and luggage, 20 to 500 kg
  double drag_area_m2 = 0.5;               // drag coefficient times frontal area, 0.1 to 2
  double rolling = 0.006;                  // rolling resistance over weight, 0 to 0.1
  double wheel_drag_area_m2 = 0.0044;      // of the turning spokes, 0 to 0.05; [road-power]
  double bearing_n = 0.091;                // both wheels' bearings, 0 to 5 N; [road-power]
  double bearing_n_per_m_s = 0.0087;       // their rise with speed, 0 to 1; [road-power]
  Mass wheel_inertia = 0.14 / (0.311 * 0.311) * kg;  // both wheels' inertia over their radius
                                                     // squared, 0 to 20 kg; [road-power]
  double drive_efficiency = 0.976;         // pedals to wheel, 0.7 to 1
};

/// Where and in what air the bike is.
struct RoadPlace {
  double slope = 0;              // rise over run, -0.6 to 0.6
  Speed head_wind = {};          // along the road, positive from ahead, -40 to 40 m/s
  double density_kg_m3 = 1.225;  // of the air, 0.5 to 1.6
};

/// What a speed asks for, each positive when it holds the bike back.
struct RoadPower {
  Power air;      // negative when the wind pushes
  Power rolling;
  Power bearing;
  Power lift;     // negative downhill
  Power kinetic;  // negative while slowing
  Power wheel;    // their sum
  Power pedals;   // wheel over efficiency; nothing when the sum is negative
  Power brakes;   // what has to be braked away to hold the speed
};

/// Power at one speed.
///
/// Method:    the road power equation: air 1/2 rho (drag area + wheels) |Va| Va Vg with
///            Va = Vg + head wind, rolling with the cosine of the slope, bearings, lift; `kinetic`
///            as the caller states it (kinetic_power).
/// Source:    [road-power] in docs/sources.md.
/// Accuracy:  2.7 W standard error against measured power (the source), for known drag and rolling.
/// Ignores:   wind across the road (see head_wind_share), bends, draughts, losses in suspension.
/// Errors:    kOutOfRange; speed 0 to 40 m/s.
[[nodiscard]] Result<RoadPower> road_power(const RoadLoad& load, const RoadPlace& place,
                                           Speed speed, Power kinetic = {});

/// Mean power into the bike's motion while it changes speed, over `seconds` (above 0).
/// Source: [road-power]. Errors: kOutOfRange.
[[nodiscard]] Result<Power> kinetic_power(const RoadLoad& load, Speed from, Speed to,
                                          double seconds);

/// The steady speed that a power at the pedals (0 to 3000 W) holds.
///
/// Method:    force on the bike rises strictly with its speed, so power has one speed; found by
///            rising_root. With no power it is the speed of rolling; nothing where the bike would
///            not roll by itself.
/// Source:    [road-power]. Accuracy: 1e-12 of the speed for the model. Ignores: as road_power.
/// Errors:    kOutOfRange.
[[nodiscard]] Result<Speed> speed_at_power(const RoadLoad& load, const RoadPlace& place,
                                           Power pedals);

/// The refusal for the first field out of its range, or nothing.
[[nodiscard]] std::optional<Error> road_load_problem(const RoadLoad& load);

/// The forces of the equation as plain numbers, for the ride model: newtons at metres per second.
struct RoadForces {
  double air = 0;      // 1/2 rho (drag area + wheels), kg/m
  double wind = 0;     // from ahead
  double rolling = 0;
  double bearing = 0;
  double bearing_rising = 0;
  double lift = 0;

  [[nodiscard]] double air_force(double speed) const {
    const double past = speed + wind;
    return air * std::fabs(past) * past;
  }
  [[nodiscard]] ValueAndSlope at(double speed) const {
    return {air_force(speed) + rolling + bearing + bearing_rising * speed + lift,
            2 * air * std::fabs(speed + wind) + bearing_rising};
  }
};

}  // namespace rollwright::mech
