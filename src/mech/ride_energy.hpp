#pragma once

#include "base/result.hpp"
#include "units/quantity.hpp"

namespace rollwright::mech {

/// A ride that ends where it began, on an e-bike.
struct RideAsked {
  Length length;                  // 0 to 1000 km
  Length climb;                   // all rises added up, 0 to 20 km
  Mass whole;                     // bike, rider and luggage, 20 to 500 kg
  double rolling = 0.006;         // rolling resistance over weight, 0.001 to 0.05
  double drag_area = 0.6;         // drag coefficient times frontal area in m², 0.1 to 2
  Speed speed;                    // on the way, stops left out, 5 to 45 km/h
  Power rider;                    // at the pedals, 0 to 400 W
  double motor_efficiency = 0.7;  // battery to pedals over the whole way, 0.3 to 0.95
  double drive_efficiency = 0.95; // pedals to wheel, 0.7 to 1
  Power electronics = 5 * watt;   // display, lamps, controller, 0 to 50 W
};

struct RideEnergy {
  Energy wheel;    // that the road asks for at the wheel
  Energy rider;    // of it, what the rider brings there
  Energy battery;  // that leaves the battery
};

/// What a ride takes out of the battery.
///
/// Method:    rolling, air, bearings and lift at one speed; what the rider does not bring there the
///            motor does. Air density 1.2 kg/m³, no wind, wheels as in [road-power].
/// Source:    [road-power], [e-bike-energy] in docs/sources.md.
/// Accuracy:  20 % either way for a route and a rider that are known; wind and stops go on top.
/// Ignores:   what a descent gives back, so that hilly rounds come out dearer than they are; wind,
///            stops, cold (see the usable share of a battery).
/// Errors:    kOutOfRange.
[[nodiscard]] Result<RideEnergy> ride_energy(const RideAsked& ride);

}  // namespace rollwright::mech
