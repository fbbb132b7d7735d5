#pragma once

#include <optional>

#include "base/result.hpp"
#include "mech/air.hpp"
#include "mech/assist.hpp"
#include "mech/ride_motor.hpp"
#include "mech/ride_power.hpp"
#include "mech/rider_power.hpp"
#include "units/quantity.hpp"

namespace rollwright::mech {

/// The bike of a ride.
struct RideBike {
  RoadLoad road;                         // with the rider on it
  std::optional<Motor> motor;            // none: no battery either
  Length wheel_diameter = 700 * mm;      // of the motor's wheel, 200 to 1000 mm
  Length low_gear = 2 * metre;           // way for one turn of the cranks, 0.5 to 12 m
  Length high_gear = 7 * metre;          // not under low_gear, to 15 m
  Power electronics = 5 * watt;          // display, lamps, controller, 0 to 50 W
};

/// Who rides it, and how.
struct RideRider {
  RiderPower power;
  double turns_per_min = 70;             // of the cranks, as the gears allow, 30 to 120
  Speed eases_from = 32 * km_per_hour;   // pedals less and less from here, 5 to 80 km/h
  Speed most_speed = 45 * km_per_hour;   // brakes to hold this, over eases_from, to 100 km/h
  Length stop_every = {};                // lights and corners: full speed to none; 0 for never,
                                         // else 50 m to 100 km
};

/// One weather for the whole way.
struct Weather {
  Air air;    // temperature where the ride starts, 6.5 K less for each kilometre up; pressure as
              // forecasts give it, at the sea, 0.9 to 1.1 bar
  Wind wind;  // constant; the rider feels it at 1.5 m
};

/// A ride to reckon.
struct Ride {
  RideBike bike;
  RideRider rider;
  AssistLaw law;    // counts with a motor only
  Weather weather;
  Energy charge;    // in the battery for the way, 0 to 10000 Wh; see usable_energy
};

/// The refusal for the first field out of its range or against another, or nothing.
[[nodiscard]] std::optional<Error> ride_problem(const Ride& ride);

}  // namespace rollwright::mech
