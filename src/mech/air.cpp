#include "mech/air.hpp"

#include <cmath>
#include <numbers>

#include "mech/field_range.hpp"

namespace rollwright::mech {
namespace {

constexpr double kDryAirGas = 287.058;      // J/(kg K); [air]
constexpr double kVapourGas = 461.495;      // J/(kg K); [air]
constexpr double kMostVapourAtZero = 611.2;  // Pa; Magnus, [air]
constexpr double kMagnusRise = 17.62;
constexpr double kMagnusShift = 243.12;  // °C
constexpr double kFreezing = 273.15;     // K

// Standard atmosphere, [air].
constexpr double kSeaTemperature = 288.15;  // K
constexpr double kLapse = 0.0065;           // K/m
constexpr double kPressureExponent = 5.25588;

}  // namespace

Pressure vapour_pressure(double temperature_c, double humidity) {
  return humidity * kMostVapourAtZero *
         std::exp(kMagnusRise * temperature_c / (kMagnusShift + temperature_c)) * 1e-5 * bar;
}

Result<double> air_density(const Air& air) {
  if (auto error = first_outside({{"air temperature", air.temperature_c, -40, 50, "°C"},
                                  {"air pressure", air.pressure.in(bar), 0.5, 1.1, "bar"},
                                  {"humidity", air.humidity, 0, 1, ""}})) {
    return std::unexpected(*std::move(error));
  }
  const double kelvin = air.temperature_c + kFreezing;
  const double vapour = vapour_pressure(air.temperature_c, air.humidity).in(bar) * 1e5;
  const double dry = air.pressure.in(bar) * 1e5 - vapour;
  return dry / (kDryAirGas * kelvin) + vapour / (kVapourGas * kelvin);
}

Result<Air> standard_air(Length elevation) {
  if (auto error = first_outside({{"elevation", elevation.in(metre), -500, 9000, "m"}})) {
    return std::unexpected(*std::move(error));
  }
  const double kelvin = kSeaTemperature - kLapse * elevation.in(metre);
  return Air{.temperature_c = kelvin - kFreezing,
             .pressure = 1.01325 * std::pow(kelvin / kSeaTemperature, kPressureExponent) * bar,
             .humidity = 0};
}

Result<Speed> wind_at_height(const Wind& wind, Length height) {
  if (auto error =
          first_outside({{"wind", wind.at_ten_metres.in(metre_per_second), 0, 40, "m/s"},
                         {"roughness of the land", wind.roughness, 0, 0.5, ""},
                         {"height over the ground", height.in(metre), 0.5, 20, "m"}})) {
    return std::unexpected(*std::move(error));
  }
  return wind.at_ten_metres * std::pow(height.in(metre) / 10, wind.roughness);
}

double head_wind_share(double wind_from_deg, double heading_deg) {
  return std::cos((wind_from_deg - heading_deg) * std::numbers::pi / 180);
}

}  // namespace rollwright::mech
