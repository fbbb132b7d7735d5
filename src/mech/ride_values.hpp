#pragma once

#include <span>
#include <string_view>

namespace rollwright::mech {

/// A usual value with its ends, for what nobody measured on this bike. A row of data.
struct RideValue {
  std::string_view key;   // "touring"
  std::string_view name;  // as shown
  double least = 0;
  double usual = 0;
  double most = 0;
};

/// Drag coefficient times frontal area of bike and rider, m²: by posture, and for cargo bikes.
/// Source: [road-power] in docs/sources.md. Accuracy: the ends; clothes and bags move it a tenth.
[[nodiscard]] std::span<const RideValue> drag_areas_m2();

/// Rolling resistance over weight, by tyre and ground. Source: [road-power] (from memory).
/// Accuracy: the ends; pressure and cold move it by a fifth.
[[nodiscard]] std::span<const RideValue> rolling_resistances();

/// Efficiency from pedals to wheel, by drive. Source: [road-power]; hub gears, belts from memory.
[[nodiscard]] std::span<const RideValue> drive_efficiencies();

}  // namespace rollwright::mech
