#pragma once

#include <initializer_list>
#include <optional>
#include <string_view>

#include "base/result.hpp"

namespace rollwright::mech {

/// One number of an input with the range its field states. NaN is outside every range.
struct FieldRange {
  std::string_view field;  // as a mechanic says it: "flange circle"
  double value = 0;
  double least = 0;
  double most = 0;
  std::string_view unit;  // symbol, empty for a count or a ratio
};

/// The refusal for the first field that leaves its range (kOutOfRange, naming field, value and
/// range), or nothing when all hold.
[[nodiscard]] std::optional<Error> first_outside(std::initializer_list<FieldRange> fields);

}  // namespace rollwright::mech
