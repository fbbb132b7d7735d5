#include "units/unit_table.hpp"

#include <fmt/format.h>

#include "base/text.hpp"
#include "units/quantity.hpp"

namespace rollwright {

const std::vector<UnitRow>& unit_table() {
  static const std::vector<UnitRow> kRows = {
      {"mm", Dimension::kLength, 1},
      {"cm", Dimension::kLength, cm.in(mm)},
      {"m", Dimension::kLength, metre.in(mm)},
      {"km", Dimension::kLength, km.in(mm)},
      {"in", Dimension::kLength, inch.in(mm)},
      {"kg", Dimension::kMass, 1},
      {"g", Dimension::kMass, gram.in(kg)},
      {"lb", Dimension::kMass, lb.in(kg)},
      {"N", Dimension::kForce, 1},
      {"kgf", Dimension::kForce, kgf.in(newton)},
      {"N·m", Dimension::kTorque, 1},
      {"Nm", Dimension::kTorque, 1},
      {"in-lb", Dimension::kTorque, inch_pound.in(newton_metre)},
      {"bar", Dimension::kPressure, 1},
      {"psi", Dimension::kPressure, psi.in(bar)},
      {"Wh", Dimension::kEnergy, 1},
      {"W", Dimension::kPower, 1},
      {"m/s", Dimension::kSpeed, 1},
      {"km/h", Dimension::kSpeed, km_per_hour.in(metre_per_second)},
      {"mph", Dimension::kSpeed, mile_per_hour.in(metre_per_second)},
      {"Hz", Dimension::kFrequency, 1},
      {"rad", Dimension::kAngle, 1},
      {"°", Dimension::kAngle, degree.in(radian)},
      {"deg", Dimension::kAngle, degree.in(radian)},
      {"V", Dimension::kVoltage, 1},
      {"A", Dimension::kCurrent, 1},
      {"kg/m", Dimension::kLineDensity, 1},
      {"g/m", Dimension::kLineDensity, 0.001},
      {"°C", Dimension::kTemperature, 1},
      {"min", Dimension::kMinutes, 1},
      {"h", Dimension::kMinutes, 60},
      {"%", Dimension::kPercent, 1},
  };
  return kRows;
}

const UnitRow* find_unit(std::string_view symbol) {
  for (const UnitRow& row : unit_table()) {
    if (row.symbol == symbol) return &row;
  }
  return nullptr;
}

std::string_view word_of(Dimension dimension) {
  switch (dimension) {
    case Dimension::kNone: return "plain number";
    case Dimension::kLength: return "length";
    case Dimension::kMass: return "mass";
    case Dimension::kForce: return "force";
    case Dimension::kTorque: return "torque";
    case Dimension::kPressure: return "pressure";
    case Dimension::kEnergy: return "energy";
    case Dimension::kPower: return "power";
    case Dimension::kSpeed: return "speed";
    case Dimension::kFrequency: return "frequency";
    case Dimension::kAngle: return "angle";
    case Dimension::kVoltage: return "voltage";
    case Dimension::kCurrent: return "current";
    case Dimension::kLineDensity: return "mass per length";
    case Dimension::kTemperature: return "temperature";
    case Dimension::kMinutes: return "time";
    case Dimension::kPercent: return "percentage";
  }
  broken_promise("every dimension has a word", __FILE__, __LINE__);
}

std::string_view own_unit(Dimension dimension) {
  for (const UnitRow& row : unit_table()) {
    if (row.dimension == dimension) return row.symbol;
  }
  return {};
}

Result<double> parse_amount(std::string_view text, Dimension dimension,
                            std::string_view assumed_unit) {
  text = trim(text);
  const auto refuse_it = [&](std::string_view what) {
    std::vector<std::string> units;
    for (const UnitRow& row : unit_table()) {
      if (row.dimension == dimension) units.emplace_back(row.symbol);
    }
    std::string right = units.empty() ? "write a plain number, as in 36"
                                      : "write a number with " + join(units, " or ");
    return refuse(Code::kBadInput, fmt::format("{}; {}", what, right),
                  {.value = std::string(text)});
  };
  const std::size_t last = text.find_last_of("0123456789");
  if (last == std::string_view::npos) return refuse_it("this is not a number");
  const std::optional<double> number = to_number(text.substr(0, last + 1));
  if (!number) return refuse_it("this is not a number");
  std::string_view symbol = trim(text.substr(last + 1));
  if (symbol.empty()) symbol = assumed_unit;
  if (symbol.empty()) {
    if (dimension == Dimension::kNone) return *number;
    return refuse_it(fmt::format("this {} has no unit", word_of(dimension)));
  }
  const UnitRow* row = find_unit(symbol);
  if (row == nullptr) return refuse_it(fmt::format("\"{}\" is no unit known here", symbol));
  if (row->dimension != dimension) {
    return refuse_it(fmt::format("{} is a unit of {}, not of {}", symbol,
                                 word_of(row->dimension), word_of(dimension)));
  }
  return *number * row->size;
}

int gauge_decimals(Dimension dimension) {
  switch (dimension) {
    case Dimension::kForce:
    case Dimension::kFrequency:
    case Dimension::kEnergy:
    case Dimension::kPower:
    case Dimension::kMinutes:
    case Dimension::kTemperature:
      return 0;
    case Dimension::kLength:
    case Dimension::kTorque:
    case Dimension::kPressure:
    case Dimension::kSpeed:
    case Dimension::kAngle:
    case Dimension::kPercent:
    case Dimension::kVoltage:
    case Dimension::kCurrent:
      return 1;
    case Dimension::kNone:
    case Dimension::kMass:
    case Dimension::kLineDensity:
      return 2;
  }
  broken_promise("every dimension has a gauge", __FILE__, __LINE__);
}

std::string with_unit(double own_units, std::string_view unit, int decimals) {
  const UnitRow* row = find_unit(unit);
  if (row == nullptr) return rounded(own_units, decimals);
  return fmt::format("{} {}", rounded(own_units / row->size, decimals), unit);
}

std::optional<std::string> us_customary(double own_units, Dimension dimension) {
  switch (dimension) {
    case Dimension::kTorque: return with_unit(own_units, "in-lb", 0);
    case Dimension::kPressure: return with_unit(own_units, "psi", 0);
    case Dimension::kMass: return with_unit(own_units, "lb", own_units < 1 ? 2 : 1);
    case Dimension::kForce: return with_unit(own_units, "kgf", 0);
    case Dimension::kSpeed: return with_unit(own_units, "mph", 1);
    default: return std::nullopt;
  }
}

}  // namespace rollwright
