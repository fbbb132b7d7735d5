#include "mech/battery.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>

#include "mech/field_range.hpp"

namespace rollwright::mech {
namespace {

struct ColdRow {
  double temperature_c;
  double share;
};
// [battery-cold]
constexpr ColdRow kCold[] = {{-20, 0.55}, {-10, 0.70}, {0, 0.85}, {10, 0.95}, {20, 1.00}};

constexpr double kLostPerCycle = 0.00029;  // [battery-age]
constexpr double kLostPerYear = 0.015;     // [battery-age]
constexpr double kLeastHealth = 0.3;

}  // namespace

Result<double> cold_share(double temperature_c) {
  if (auto error =
          first_outside({{"temperature of the battery", temperature_c, -20, 60, "°C"}})) {
    return std::unexpected(*std::move(error));
  }
  const ColdRow* above = std::ranges::find_if(
      kCold, [&](const ColdRow& row) { return temperature_c <= row.temperature_c; });
  if (above == std::end(kCold)) return 1.0;
  if (above == std::begin(kCold)) return above->share;
  const ColdRow* below = above - 1;
  return std::lerp(below->share, above->share,
                   (temperature_c - below->temperature_c) /
                       (above->temperature_c - below->temperature_c));
}

Result<double> health_by_age(double full_cycles, double years) {
  if (auto error = first_outside(
          {{"full cycles", full_cycles, 0, 3000, ""}, {"age in years", years, 0, 20, ""}})) {
    return std::unexpected(*std::move(error));
  }
  return std::max(kLeastHealth, 1 - kLostPerCycle * full_cycles - kLostPerYear * years);
}

Result<Energy> usable_energy(const Battery& battery, double temperature_c) {
  if (auto error = first_outside({{"battery", battery.printed.in(watt_hour), 50, 5000, "Wh"},
                                  {"health of the battery", battery.health, kLeastHealth, 1, ""},
                                  {"usable share of the battery", battery.window, 0.5, 1, ""},
                                  {"reserve", battery.reserve, 0, 0.5, ""}})) {
    return std::unexpected(*std::move(error));
  }
  const auto cold = cold_share(temperature_c);
  if (!cold) return std::unexpected(cold.error());
  return battery.printed * (battery.health * battery.window * *cold * (1 - battery.reserve));
}

}  // namespace rollwright::mech
