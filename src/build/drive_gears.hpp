#pragma once

#include <optional>
#include <string>
#include <vector>

#include "build/facts.hpp"

// The gears of one bike, as far as its parts state them.
namespace rollwright::build {

/// Numbers of teeth or ratios, smallest first.
struct GearNumbers {
  std::vector<double> numbers;
  std::string origin;
  std::string between;  // what the part leaves open between smallest and largest; empty when nothing
};

/// What is not known is asked at the reader.
[[nodiscard]] std::optional<GearNumbers> front_teeth(FactReader& facts);
[[nodiscard]] std::optional<GearNumbers> rear_teeth(FactReader& facts);
/// 1 alone for a hub without gears.
[[nodiscard]] std::optional<GearNumbers> hub_ratios(FactReader& facts);

}  // namespace rollwright::build
