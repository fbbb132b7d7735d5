#pragma once

#include <compare>

namespace rollwright {

/// A physical amount of one dimension. A number enters by multiplying a unit (`602.0 * mm`) and
/// leaves by naming one (`tension.in(kgf)`); amounts of different dimensions neither add nor
/// compare. One double in the dimension's own unit inside; no range of its own.
template <class Dimension>
class Quantity {
 public:
  constexpr Quantity() = default;

  /// The number of `unit`s in this amount.
  [[nodiscard]] constexpr double in(Quantity unit) const { return value_ / unit.value_; }

  constexpr Quantity& operator+=(Quantity other) { return *this = *this + other; }
  constexpr Quantity& operator-=(Quantity other) { return *this = *this - other; }

  friend constexpr Quantity operator+(Quantity a, Quantity b) { return make(a.value_ + b.value_); }
  friend constexpr Quantity operator-(Quantity a, Quantity b) { return make(a.value_ - b.value_); }
  friend constexpr Quantity operator-(Quantity a) { return make(-a.value_); }
  friend constexpr Quantity operator*(double n, Quantity a) { return make(n * a.value_); }
  friend constexpr Quantity operator*(Quantity a, double n) { return make(n * a.value_); }
  friend constexpr Quantity operator/(Quantity a, double n) { return make(a.value_ / n); }
  friend constexpr double operator/(Quantity a, Quantity b) { return a.value_ / b.value_; }
  friend constexpr auto operator<=>(Quantity, Quantity) = default;

  /// For the definitions of units only.
  [[nodiscard]] static constexpr Quantity make(double value) {
    Quantity quantity;
    quantity.value_ = value;
    return quantity;
  }

 private:
  double value_ = 0;
};

// Inside unit of each dimension in brackets: the one shops and makers print, so that a printed
// value is stored exactly.
using Length = Quantity<struct LengthDimension>;            // [mm]
using Mass = Quantity<struct MassDimension>;                // [kg]
using Force = Quantity<struct ForceDimension>;              // [N]
using Torque = Quantity<struct TorqueDimension>;            // [N m]
using Pressure = Quantity<struct PressureDimension>;        // [bar]
using Energy = Quantity<struct EnergyDimension>;            // [Wh]
using Power = Quantity<struct PowerDimension>;              // [W]
using Speed = Quantity<struct SpeedDimension>;              // [m/s]
using Frequency = Quantity<struct FrequencyDimension>;      // [Hz]
using Angle = Quantity<struct AngleDimension>;              // [radian]
using Voltage = Quantity<struct VoltageDimension>;          // [V]
using Current = Quantity<struct CurrentDimension>;          // [A]
using LineDensity = Quantity<struct LineDensityDimension>;  // [kg/m]

inline constexpr Length mm = Length::make(1);
inline constexpr Length cm = Length::make(10);
inline constexpr Length metre = Length::make(1000);
inline constexpr Length km = Length::make(1e6);
inline constexpr Length inch = Length::make(25.4);  // exact by definition
inline constexpr Length foot = Length::make(304.8);
inline constexpr Length mile = Length::make(1609344);
inline constexpr Mass kg = Mass::make(1);
inline constexpr Mass gram = Mass::make(0.001);
inline constexpr Mass lb = Mass::make(0.45359237);  // exact by definition
inline constexpr Force newton = Force::make(1);
inline constexpr Force kgf = Force::make(9.80665);  // standard gravity, exact by definition
inline constexpr Torque newton_metre = Torque::make(1);
inline constexpr Torque inch_pound = Torque::make(0.45359237 * 9.80665 * 0.0254);
inline constexpr Pressure bar = Pressure::make(1);
inline constexpr Pressure psi = Pressure::make(0.45359237 * 9.80665 / (0.0254 * 0.0254) / 1e5);
inline constexpr Energy watt_hour = Energy::make(1);
inline constexpr Energy joule = Energy::make(1.0 / 3600);
inline constexpr Power watt = Power::make(1);
inline constexpr Speed metre_per_second = Speed::make(1);
inline constexpr Speed km_per_hour = Speed::make(1 / 3.6);
inline constexpr Speed mile_per_hour = Speed::make(1609.344 / 3600);
inline constexpr Frequency hertz = Frequency::make(1);
inline constexpr Angle radian = Angle::make(1);
inline constexpr Angle degree = Angle::make(3.14159265358979323846 / 180);
inline constexpr Voltage volt = Voltage::make(1);
inline constexpr Current ampere = Current::make(1);
inline constexpr LineDensity kg_per_metre = LineDensity::make(1);

}  // namespace rollwright
