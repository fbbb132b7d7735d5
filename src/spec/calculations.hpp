#pragma once

#include <span>
#include <string_view>
#include <vector>

#include "base/result.hpp"

namespace rollwright::spec {

/// The function behind a calculation that a `computed` rule names. What its arguments are, in which
/// order and of which dimension, and the dimension of the answer, says trade/rule_calculations.hpp;
/// all numbers are in the own units of their dimensions. Formulas of mechanics belong to mech.
///
/// Errors: those of the calculation, for instance kContradiction when a belt is too short to go
/// around both sprockets. Such a bike does not fit, and the error's sentence says why.
struct Calculation {
  std::string_view name;
  Result<double> (*compute)(std::span<const double> arguments);
};

[[nodiscard]] const std::vector<Calculation>& calculations();
[[nodiscard]] const Calculation* find_calculation(std::string_view name);

}  // namespace rollwright::spec
