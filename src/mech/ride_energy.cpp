#include "mech/ride_energy.hpp"

#include <algorithm>

#include "mech/field_range.hpp"
#include "mech/gravity.hpp"
#include "mech/ride_power.hpp"

namespace rollwright::mech {
namespace {

constexpr double kAirDensity = 1.2;  // kg/m³, 20 °C at sea level; [road-power]

}  // namespace

Result<RideEnergy> ride_energy(const RideAsked& ride) {
  if (auto error =
          first_outside({{"length of the ride", ride.length.in(km), 0, 1000, "km"},
                         {"climb of the ride", ride.climb.in(km), 0, 20, "km"},
                         {"bike, rider and luggage", ride.whole.in(kg), 20, 500, "kg"},
                         {"rolling resistance", ride.rolling, 0.001, 0.05, ""},
                         {"drag area", ride.drag_area, 0.1, 2, "m²"},
                         {"speed", ride.speed.in(km_per_hour), 5, 45, "km/h"},
                         {"rider's power", ride.rider.in(watt), 0, 400, "W"},
                         {"efficiency of the motor", ride.motor_efficiency, 0.3, 0.95, ""},
                         {"efficiency of the drive", ride.drive_efficiency, 0.7, 1, ""},
                         {"power of the electronics", ride.electronics.in(watt), 0, 50, "W"}})) {
    return std::unexpected(*std::move(error));
  }
  const auto level = road_power({.whole = ride.whole,
                                 .drag_area_m2 = ride.drag_area,
                                 .rolling = ride.rolling,
                                 .drive_efficiency = ride.drive_efficiency},
                                {.density_kg_m3 = kAirDensity}, ride.speed);
  if (!level) return std::unexpected(level.error());
  const double seconds = ride.length.in(metre) / ride.speed.in(metre_per_second);
  const double lift = ride.whole.in(kg) * kGravity * ride.climb.in(metre);
  RideEnergy energy;
  energy.wheel = (level->wheel.in(watt) * seconds + lift) * joule;
  energy.rider =
      std::min(energy.wheel, ride.rider.in(watt) * ride.drive_efficiency * seconds * joule);
  const Energy motor = energy.wheel - energy.rider;
  energy.battery = motor * (1 / ride.motor_efficiency) +
                   ride.electronics.in(watt) * seconds * joule;
  return energy;
}

}  // namespace rollwright::mech
