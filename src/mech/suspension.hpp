#pragma once

#include "base/result.hpp"
#include "units/quantity.hpp"

namespace rollwright::mech {

/// How far a wheel sinks under the rider at rest: travel times the wanted share.
/// Source: [suspension] in docs/sources.md; 0.15 to 0.30 is usual (from memory).
/// Errors: kOutOfRange (travel 10 to 300 mm, share 0.05 to 0.5).
[[nodiscard]] Result<Length> sag(Length travel, double share);

/// A rear shock with a coil spring.
struct CoilShock {
  Force wheel_force;    // rider's weight on that wheel, 50 to 3000 N
  double leverage = 2;  // wheel travel over shock stroke, averaged, 1 to 5
  Length stroke;        // of the shock, 10 to 100 mm
  double share = 0.3;   // of the stroke used up at rest, 0.05 to 0.5
};
/// Spring rate in newtons per millimetre that gives the wanted sag.
/// Method:   wheel force * leverage / (share * stroke). Source: [suspension].
/// Accuracy: 10 %, for the leverage changes over the travel. Ignores: preload, friction.
/// Errors:   kOutOfRange.
[[nodiscard]] Result<double> coil_rate_n_per_mm(const CoilShock& shock);

}  // namespace rollwright::mech
