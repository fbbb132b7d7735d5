#include "mech/ride_setup.hpp"

#include "mech/field_range.hpp"

namespace rollwright::mech {
namespace {

std::optional<Error> bike_numbers_problem(const RideBike& bike) {
  if (auto error = road_load_problem(bike.road)) return error;
  if (auto error = first_outside({{"wheel diameter", bike.wheel_diameter.in(mm), 200, 1000, "mm"},
                                  {"low gear", bike.low_gear.in(metre), 0.5, 12, "m"},
                                  {"high gear", bike.high_gear.in(metre), 0.5, 15, "m"},
                                  {"electronics", bike.electronics.in(watt), 0, 50, "W"}})) {
    return error;
  }
  if (bike.low_gear > bike.high_gear) {
    return Error{Code::kContradiction, "The low gear goes further for a turn than the high one.",
                 Place{.field = "low gear"}};
  }
  return bike.motor ? motor_problem(*bike.motor) : std::nullopt;
}

std::optional<Error> rider_numbers_problem(const RideRider& rider) {
  if (auto error = first_outside(
          {{"rider's power", rider.power.typical.in(watt), 0, 600, "W"},
           {"spread of the rider's power", rider.power.day_spread, 0, 0.6, ""},
           {"turns of the cranks", rider.turns_per_min, 30, 120, "/min"},
           {"speed from which the rider eases", rider.eases_from.in(km_per_hour), 5, 80, "km/h"},
           {"greatest speed", rider.most_speed.in(km_per_hour), 6, 100, "km/h"}})) {
    return error;
  }
  if (!(rider.eases_from < rider.most_speed)) {
    return Error{Code::kContradiction, "The rider eases before the greatest speed, not after it.",
                 Place{.field = "greatest speed"}};
  }
  if (rider.stop_every == Length{}) return std::nullopt;
  return first_outside({{"way between stops", rider.stop_every.in(km), 0.05, 100, "km"}});
}

std::optional<Error> weather_problem(const Weather& weather) {
  return first_outside(
      {{"air temperature", weather.air.temperature_c, -30, 50, "°C"},
       {"air pressure at the sea", weather.air.pressure.in(bar), 0.9, 1.1, "bar"},
       {"humidity", weather.air.humidity, 0, 1, ""},
       {"wind", weather.wind.at_ten_metres.in(metre_per_second), 0, 40, "m/s"},
       {"direction of the wind", weather.wind.from_deg, -720, 720, "degrees"},
       {"roughness of the land", weather.wind.roughness, 0, 0.5, ""}});
}

}  // namespace

std::optional<Error> ride_problem(const Ride& ride) {
  if (auto error = bike_numbers_problem(ride.bike)) return error;
  if (auto error = rider_numbers_problem(ride.rider)) return error;
  if (auto error = weather_problem(ride.weather)) return error;
  if (auto error =
          first_outside({{"charge of the battery", ride.charge.in(watt_hour), 0, 10000, "Wh"}})) {
    return error;
  }
  if (!ride.bike.motor) return std::nullopt;
  return first_outside(
      {{"speed at which help ends", ride.law.help_ends.in(km_per_hour), 5, 60, "km/h"},
       {"speed from which help fades", ride.law.fades_from.in(km_per_hour), 1,
        ride.law.help_ends.in(km_per_hour), "km/h"}});
}

}  // namespace rollwright::mech
