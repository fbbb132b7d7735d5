#pragma once

#include <optional>
#include <string>

#include "base/clock.hpp"
#include "units/unit_table.hpp"

namespace rollwright::trade {

/// A measuring tool of the shop: a torque wrench, a tension meter, a dial gauge.
struct Tool {
  std::string id;        // "T3", as on its label
  std::string name;      // "torque wrench 2 to 25 N·m"
  Dimension measures = Dimension::kTorque;
  std::optional<double> least;  // of its range, own unit of the dimension
  std::optional<double> most;
  std::optional<Day> calibrated;
  int valid_days = 365;  // of a calibration; a year is common practice. 1 to 3650
  bool out_of_use = false;

  /// Last day on which what it says counts; nothing for a tool that was never calibrated.
  [[nodiscard]] std::optional<Day> good_until() const {
    if (!calibrated) return std::nullopt;
    return *calibrated + std::chrono::days(valid_days);
  }
  friend bool operator==(const Tool&, const Tool&) = default;
};

}  // namespace rollwright::trade
