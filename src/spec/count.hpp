#pragma once

#include <string>

#include "spec/choices.hpp"

namespace rollwright::spec {

/// How many complete bikes contain the choices. Bikes differ when a part in some slot differs.
struct Count {
  std::string fitting;   // every rule known to hold: whole number in digits, "0" for none
  /// Those, and bikes of which some fact is not known. Empty: the catalogue is too loose with them.
  std::string possible;
  /// False: a limit on the sum of masses was left out of the count, so that these are upper bounds,
  /// or `possible` could not be counted.
  bool exact = true;
};

/// Errors: those of `choices`; kRefused when the catalogue is too loose to be counted.
[[nodiscard]] Result<Count> count(const Problem& problem, const Selection& selection,
                                  const ChoicesSettings& settings = {});

}  // namespace rollwright::spec
