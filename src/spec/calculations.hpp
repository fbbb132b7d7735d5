#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"

namespace rollwright::spec {

/// One calculation that a `computed` rule may name. Arguments and answer are in the own units of
/// their dimensions (mm, counts). The formulas themselves belong to mech.
struct Calculation {
  std::string_view name;
  std::vector<std::string_view> arguments;  // in the order in which the rule's `left` gives them
  std::string_view answer_unit;             // "mm", or empty for counts and ratios
  Result<double> (*compute)(std::span<const double> arguments);
};

[[nodiscard]] const std::vector<Calculation>& calculations();
[[nodiscard]] const Calculation* find_calculation(std::string_view name);

}  // namespace rollwright::spec
