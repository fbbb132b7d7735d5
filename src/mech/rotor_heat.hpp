#pragma once

#include <optional>
#include <vector>

#include "base/result.hpp"
#include "units/quantity.hpp"

namespace rollwright::mech {

/// A brake rotor (or drum, or rim) as one lump of metal.
struct Rotor {
  Mass mass;                               // that is heated, 20 g to 3 kg
  double heat_j_per_kg_k = 500;            // specific heat, 300 to 1000; steel 500, aluminium 900
  double area_m2 = 0.03;                   // that the air reaches, both faces, 0.002 to 0.5
  double emissivity = 0.3;                 // 0 to 1; bright steel 0.3
  double air_still_w_per_m2_k = 15;        // heat carried off standing still, 0 to 200
  double air_per_mps_w_per_m2_k = 8;       // and more for each m/s of speed, 0 to 50
  double warn_at_c = 250;                  // the maker's limit of rotor, pads or fluid, 60 to 800
};

/// One piece of a way down, or up.
struct DescentPiece {
  Length length;     // along the road, 0 to 100 km, more than nothing
  double slope = 0;  // rise over run, -0.4 to 0.4; downhill negative
  Speed speed;       // held on it, 1 to 100 km/h
};

/// The bike on its way down.
struct DescendingBike {
  Mass whole;                       // bike, rider and load, 20 to 500 kg
  double drag_area_m2 = 0.5;        // 0.1 to 2
  double rolling = 0.006;           // rolling resistance over weight, 0 to 0.1
  double density_kg_per_m3 = 1.2;   // of the air, 0.8 to 1.5
  double share = 0.5;               // of the braking that this rotor takes, 0 to 1
};

/// What the brakes of the bike must turn into heat at a steady speed, all wheels together; nothing
/// where the bike slows down by itself.
struct BrakingPower {
  Power slope;   // what the slope feeds in
  Power brakes;  // what air and tyres leave of it
};
/// Errors: kOutOfRange.
[[nodiscard]] Result<BrakingPower> braking_power(const DescendingBike& bike,
                                                 const DescentPiece& piece);

/// A rotor's temperature over a way.
struct RotorMoment {
  double seconds = 0;
  Length way;
  double temperature_c = 0;
  Power heating;
};
struct RotorWay {
  std::vector<RotorMoment> moments;    // at least one a second; the first is the start
  double hottest_c = 0;
  std::optional<RotorMoment> too_hot;  // the first over the rotor's limit
  Energy heated;                       // put into the rotor
  Energy shed;                         // carried off by air and radiation
};

/// Temperature of a rotor over a descent.
///
/// Method:    m c dT/dt = share P - h A (T - Ta) - eps sigma A (T^4 - Ta^4), h from the
///            speed, by fourth order Runge and Kutta in steps of at most 0.5 s. A change of speed between
///            two pieces is braked (or not) at their joint: half of m (v1^2 - v2^2) at once.
/// Source:    [rotor-heat] in docs/sources.md.
/// Accuracy:  1 J of a descent in the balance of energy; h and the share are known to 30 % at best,
///            so take the result as a warning.
/// Ignores:   heat into pads, hub and fluid; rain; the rotor's own gradients; fading brakes.
/// Errors:    kOutOfRange; kTooLarge for more than six hours.
///
/// The maker's limits come first. Fluid boils and pads fade by their own data, which is what
/// `warn_at_c` is for.
[[nodiscard]] Result<RotorWay> rotor_way(const Rotor& rotor, const DescendingBike& bike,
                                         const std::vector<DescentPiece>& way,
                                         double air_c = 20);

/// Temperature that a steady heating would end at, at a steady speed.
/// Errors: kOutOfRange (heating 0 to 5000 W, speed 0 to 100 km/h).
[[nodiscard]] Result<double> steady_rotor_c(const Rotor& rotor, Power heating, Speed speed,
                                            double air_c = 20);

/// Rise in temperature when a stop puts `heat` in at once (0 to 1 MJ). Errors: kOutOfRange.
[[nodiscard]] Result<double> rotor_rise_k(const Rotor& rotor, Energy heat);

}  // namespace rollwright::mech
