#pragma once

#include "base/result.hpp"
#include "units/quantity.hpp"

namespace rollwright::mech {

/// A bike's battery.
struct Battery {
  Energy printed;          // on its label, 50 to 5000 Wh
  double health = 1;       // what is left of it with age, at room temperature, 0.3 to 1
  double window = 0.92;    // share its electronics let out, 0.5 to 1; usually 0.90 to 0.95
  double reserve = 0.05;   // share of the rest kept back for lamps and a wrong guess, 0 to 0.5
};

/// Printed energy from voltage and charge. Identity.
[[nodiscard]] constexpr Energy battery_energy(Voltage voltage, double ampere_hours) {
  return voltage.in(volt) * ampere_hours * watt_hour;
}

/// Share of the charge that a cold battery gives, 1 from 20 °C on.
///
/// Method:    table at -20, -10, 0, 10 and 20 °C, straight lines between.
/// Source:    [battery-cold] in docs/sources.md.
/// Accuracy:  5 % above 0 °C (one cell measured: 0.875 between 32 and 2 °C); 15 % below, where
///            cells differ. A battery warms up in use; its own temperature counts, not the air's.
/// Errors:    kOutOfRange (-20 to 60 °C).
[[nodiscard]] Result<double> cold_share(double temperature_c);

/// What is left of a battery by use and age, 0.3 to 1.
///
/// Method:    2.9 % for each hundred full cycles and 1.5 % for each year, added up: 80 % after 500
///            cycles in three and a half years.
/// Source:    [battery-age] (from memory). Accuracy: 10 %; a capacity test on a tester goes first.
/// Errors:    kOutOfRange (0 to 3000 cycles, 0 to 20 years).
[[nodiscard]] Result<double> health_by_age(double full_cycles, double years);

/// Energy that the rider can use for the way: printed, times health, window, cold, less the
/// reserve. Source: [e-bike-energy], [battery-cold]. Ignores: what high currents cost (Peukert
/// exponents of such cells are 1.02 to 1.05, from memory: 2 % at double current).
/// Errors: kOutOfRange.
[[nodiscard]] Result<Energy> usable_energy(const Battery& battery, double temperature_c);

}  // namespace rollwright::mech
