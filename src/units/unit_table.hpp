#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"

namespace rollwright {

/// The dimensions that a number in a shop's files can have. The number inside is always in the
/// dimension's own unit (the first one listed for it in units/unit_table.cpp).
enum class Dimension {
  kNone,  // a count or a ratio
  kLength,
  kMass,
  kForce,
  kTorque,
  kPressure,
  kEnergy,
  kPower,
  kSpeed,
  kFrequency,
  kAngle,
  kVoltage,
  kCurrent,
  kLineDensity,
  kTemperature,  // degrees Celsius only
  kMinutes,
  kPercent,
};

struct UnitRow {
  std::string_view symbol;  // as typed and shown: "mm", "N·m"
  Dimension dimension;
  double size;  // in the dimension's own unit
};

/// Every unit that files, pages and the command line accept; "N·m" may also be typed "Nm".
[[nodiscard]] const std::vector<UnitRow>& unit_table();
[[nodiscard]] const UnitRow* find_unit(std::string_view symbol);
[[nodiscard]] std::string_view word_of(Dimension dimension);
/// Symbol of the dimension's own unit; empty for kNone.
[[nodiscard]] std::string_view own_unit(Dimension dimension);

/// A number with its unit as a person types it: "31.8 mm", "1 1/8 in" is refused, "410 g", "40".
/// The result is in the dimension's own unit. A bare number is taken in `assumed_unit` when that is
/// not empty. Errors: kBadInput when it is no number, has no unit where one is needed, or the unit
/// measures something else; the sentence names the units that would do.
[[nodiscard]] Result<double> parse_amount(std::string_view text, Dimension dimension,
                                          std::string_view assumed_unit = {});

/// Decimals that a tool or a gauge of the trade can show in the dimension's own unit: 0 for newtons,
/// 1 for newton metres, bar and millimetres.
[[nodiscard]] int gauge_decimals(Dimension dimension);

/// "31.8 mm": the number in the given unit with that unit's symbol.
[[nodiscard]] std::string with_unit(double own_units, std::string_view unit, int decimals = 2);

/// What a US shop reads beside the metric value ("60 in-lb" beside "6.8 N·m"), when it is customary.
[[nodiscard]] std::optional<std::string> us_customary(double own_units, Dimension dimension);

}  // namespace rollwright
