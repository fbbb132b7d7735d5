#pragma once

#include <span>
#include <string_view>

#include "base/result.hpp"
#include "units/quantity.hpp"

namespace rollwright::mech {

/// How a person rides a way of an hour or more.
struct RiderPower {
  Power typical;          // at the pedals while pedalling, 0 to 600 W; middle of good and bad days
  double day_spread = 0;  // of the day's power about it, as a share, 0 to 0.6
};

/// A way of riding, for a rider of whom nothing was measured.
struct RidingStyle {
  std::string_view key;   // "easy"
  std::string_view name;  // as shown
  double watts_per_kg = 0;
};

/// The rows: easy 0.8, steady 1.3, brisk 2.0, sporting 2.8 W for each kilogram of the rider.
/// Source: [rider-power] in docs/sources.md (from memory).
[[nodiscard]] std::span<const RidingStyle> riding_styles();

/// Power of a rider (10 to 250 kg) by a style; her day differs by a fifth.
/// Accuracy: 30 %; a ride with a power meter, or a timed hill, goes first.
/// Errors: kNotFound naming the styles; kOutOfRange.
[[nodiscard]] Result<RiderPower> rider_power_by_style(std::string_view key, Mass rider);

/// The power of one day: lognormal about the typical, for a standard normal number.
[[nodiscard]] Power power_of_day(const RiderPower& rider, double standard_normal);

}  // namespace rollwright::mech
