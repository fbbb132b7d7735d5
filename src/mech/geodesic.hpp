#pragma once

#include "base/result.hpp"
#include "units/quantity.hpp"

namespace rollwright::mech {

/// A place on the WGS 84 ellipsoid.
struct GroundPlace {
  double latitude_deg = 0;   // -90 to 90
  double longitude_deg = 0;  // -360 to 360
};

/// The shortest way over the ellipsoid between two places.
struct Geodesic {
  Length length;
  Angle start_azimuth;  // at the first place, clockwise from north, -180 to 180 degrees
};

/// Length and first azimuth of the geodesic.
///
/// Method:    Vincenty's iteration; where it does not settle (nearly opposite places) Bessel's
///            auxiliary sphere with the azimuth found by bisection and both integrals by Gauss
///            quadrature, which always settles.
/// Source:    [geodesic] in docs/sources.md.
/// Accuracy:  0.2 mm for any pair; 0.001 mm under 100 km. The azimuth of nearly opposite places is
///            only as sharp as the places.
/// Ignores:   height.
/// Errors:    kOutOfRange.
[[nodiscard]] Result<Geodesic> geodesic(const GroundPlace& from, const GroundPlace& to);

/// The second of the two methods on its own, for any pair. Slower; the tests compare the two.
[[nodiscard]] Result<Geodesic> geodesic_by_bisection(const GroundPlace& from,
                                                     const GroundPlace& to);

}  // namespace rollwright::mech
