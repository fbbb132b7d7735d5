#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "units/unit_table.hpp"

namespace rollwright::trade {

/// A calculation that a rule of shape `computed` may name: what it is given and what it answers.
/// Only the names live here, so that files can be checked; spec holds the functions.
struct RuleCalculation {
  std::string_view name;
  std::vector<std::string_view> arguments;  // what each one is, in words
  std::vector<Dimension> dimensions;        // parallel to arguments
  Dimension answer = Dimension::kNone;
};

[[nodiscard]] const std::vector<RuleCalculation>& rule_calculations();
[[nodiscard]] const RuleCalculation* find_rule_calculation(std::string_view name);

/// A calculation that a reading may name as its target (`compute` in readings.toml). The room
/// `build` holds the functions.
struct ReadingCalculation {
  std::string_view name;
  Dimension answer = Dimension::kNone;
};

[[nodiscard]] const std::vector<ReadingCalculation>& reading_calculations();
[[nodiscard]] const ReadingCalculation* find_reading_calculation(std::string_view name);

}  // namespace rollwright::trade
