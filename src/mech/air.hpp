#pragma once

#include "base/result.hpp"
#include "units/quantity.hpp"

namespace rollwright::mech {

/// Air at one place.
struct Air {
  double temperature_c = 15;            // -40 to 50
  Pressure pressure = 1.01325 * bar;    // at the place itself, 0.5 to 1.1 bar
  double humidity = 0.5;                // relative, 0 to 1
};

/// Density of moist air in kg/m³.
///
/// Method:    dry air and vapour as two ideal gases; saturation pressure after Magnus.
/// Source:    [air] in docs/sources.md.
/// Accuracy:  0.05 % against CIPM-2007 between 0 and 30 °C; weather moves air by 10 %.
/// Errors:    kOutOfRange.
[[nodiscard]] Result<double> air_density(const Air& air);

/// Pressure of the vapour in air, from temperature (-40 to 50 °C) and humidity (0 to 1). [air]
[[nodiscard]] Pressure vapour_pressure(double temperature_c, double humidity);

/// Dry air at an elevation (-500 to 9000 m) on a standard day: 15 °C and 1013.25 hPa at the sea,
/// 6.5 K less for each kilometre. Source: [air]. Errors: kOutOfRange.
[[nodiscard]] Result<Air> standard_air(Length elevation);

/// Wind as a forecast gives it.
struct Wind {
  Speed at_ten_metres;        // 0 to 40 m/s
  double from_deg = 0;        // where it comes from, clockwise from north; any finite angle
  double roughness = 0.20;    // exponent: 0.14 open country, 0.25 suburb; 0 to 0.5
};

/// Wind speed at a height (0.5 to 20 m) over the ground: power law from 10 m; a rider is about
/// 1.5 m up. Source: [wind] in docs/sources.md. Accuracy: 30 %, less between houses.
/// Errors: kOutOfRange.
[[nodiscard]] Result<Speed> wind_at_height(const Wind& wind, Length height);

/// Share of the wind that blows along the road, positive from ahead, for a heading clockwise from
/// north in degrees. The share across the road is left out: drag then depends on the speed along
/// the road alone, which tells a side wind of twice the riding speed too low by up to a half.
[[nodiscard]] double head_wind_share(double wind_from_deg, double heading_deg);

}  // namespace rollwright::mech
