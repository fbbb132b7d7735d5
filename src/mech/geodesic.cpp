#include "mech/geodesic.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <utility>

#include "mech/field_range.hpp"

namespace rollwright::mech {
namespace {

// WGS 84, by definition.
constexpr double kEquator = 6378137.0;
constexpr double kFlattening = 1 / 298.257223563;
constexpr double kPolar = kEquator * (1 - kFlattening);

std::optional<Error> place_problem(const GroundPlace& place) {
  return first_outside({{"latitude", place.latitude_deg, -90, 90, "degrees"},
                        {"longitude", place.longitude_deg, -360, 360, "degrees"}});
}

double radians(double degrees) { return degrees * std::numbers::pi / 180; }

/// Longitude from the first place to the second, -pi to pi. The difference is taken in degrees,
/// where the digits of the input are.
double turn_between(const GroundPlace& from, const GroundPlace& to) {
  return radians(std::remainder(to.longitude_deg - from.longitude_deg, 360.0));
}

struct SineCosine {
  double sine;
  double cosine;
};

/// Reduced latitude.
SineCosine reduced(double latitude_deg) {
  const double y = (1 - kFlattening) * std::sin(radians(latitude_deg));
  const double x = std::fabs(latitude_deg) == 90 ? 0 : std::cos(radians(latitude_deg));
  const double size = std::hypot(x, y);
  return {y / size, x / size};
}

// --- Vincenty ------------------------------------------------------------------------------------

/// What one round of the iteration knows about the arc.
struct Arc {
  double sin_sigma;
  double cos_sigma;
  double sigma;
  double cos_sq_alpha;
  double cos_2_middle;
};

Arc arc_at(double lambda, const SineCosine& u1, const SineCosine& u2) {
  const double across = u2.cosine * std::sin(lambda);
  const double along = u1.cosine * u2.sine - u1.sine * u2.cosine * std::cos(lambda);
  Arc arc{};
  arc.sin_sigma = std::hypot(across, along);
  arc.cos_sigma = u1.sine * u2.sine + u1.cosine * u2.cosine * std::cos(lambda);
  arc.sigma = std::atan2(arc.sin_sigma, arc.cos_sigma);
  if (arc.sin_sigma == 0) return arc;
  const double sin_alpha = u1.cosine * u2.cosine * std::sin(lambda) / arc.sin_sigma;
  arc.cos_sq_alpha = 1 - sin_alpha * sin_alpha;
  // Along the equator the middle of the arc has no meaning and no weight.
  if (arc.cos_sq_alpha > 1e-15) {
    arc.cos_2_middle = arc.cos_sigma - 2 * u1.sine * u2.sine / arc.cos_sq_alpha;
  }
  return arc;
}

double lambda_after(const Arc& arc, double turn, double sin_alpha) {
  const double c =
      kFlattening / 16 * arc.cos_sq_alpha * (4 + kFlattening * (4 - 3 * arc.cos_sq_alpha));
  const double m = arc.cos_2_middle;
  return turn + (1 - c) * kFlattening * sin_alpha *
                    (arc.sigma + c * arc.sin_sigma * (m + c * arc.cos_sigma * (2 * m * m - 1)));
}

double vincenty_metres(const Arc& arc) {
  const double u_sq =
      arc.cos_sq_alpha * (kEquator * kEquator - kPolar * kPolar) / (kPolar * kPolar);
  const double a = 1 + u_sq / 16384 * (4096 + u_sq * (-768 + u_sq * (320 - 175 * u_sq)));
  const double b = u_sq / 1024 * (256 + u_sq * (-128 + u_sq * (74 - 47 * u_sq)));
  const double m = arc.cos_2_middle;
  const double inner = arc.cos_sigma * (2 * m * m - 1) -
                       b / 6 * m * (4 * arc.sin_sigma * arc.sin_sigma - 3) * (4 * m * m - 3);
  return kPolar * a * (arc.sigma - b * arc.sin_sigma * (m + b / 4 * inner));
}

/// Nothing when the iteration does not settle.
std::optional<Geodesic> vincenty(const GroundPlace& from, const GroundPlace& to) {
  const double turn = turn_between(from, to);
  const SineCosine u1 = reduced(from.latitude_deg);
  const SineCosine u2 = reduced(to.latitude_deg);
  double lambda = turn;
  for (int round = 0; round < 30; ++round) {
    const Arc arc = arc_at(lambda, u1, u2);
    if (arc.sin_sigma == 0) {
      // The same place; opposite places are for the other method.
      if (arc.cos_sigma > 0) return Geodesic{};
      return std::nullopt;
    }
    const double sin_alpha = u1.cosine * u2.cosine * std::sin(lambda) / arc.sin_sigma;
    const double next = lambda_after(arc, turn, sin_alpha);
    if (!(std::fabs(next) <= std::numbers::pi)) return std::nullopt;
    if (std::fabs(next - lambda) < 1e-13) {
      const double azimuth = std::atan2(u2.cosine * std::sin(next),
                                        u1.cosine * u2.sine - u1.sine * u2.cosine * std::cos(next));
      return Geodesic{vincenty_metres(arc) * metre, azimuth * radian};
    }
    lambda = next;
  }
  return std::nullopt;
}

// --- Bessel's sphere, azimuth by bisection -------------------------------------------------------

/// Integral of a smooth function by Gauss's eight points on panels of at most half a radian.
template <class Function>
double integral(double from, double to, const Function& function) {
  constexpr double kAt[] = {0.1834346424956498, 0.5255324099163290, 0.7966664774136267,
                            0.9602898564975363};
  constexpr double kWeight[] = {0.3626837833783620, 0.3137066458778873, 0.2223810344533745,
                                0.1012285362903763};
  const int panels = 1 + static_cast<int>(std::fabs(to - from) / 0.5);
  const double half = (to - from) / panels / 2;
  double sum = 0;
  for (int panel = 0; panel < panels; ++panel) {
    const double middle = from + (2 * panel + 1) * half;
    for (int i = 0; i < 4; ++i) {
      sum += kWeight[i] * (function(middle - half * kAt[i]) + function(middle + half * kAt[i]));
    }
  }
  return sum * half;
}

/// A geodesic that leaves the first place at a trial azimuth and ends on the second's parallel.
struct Trial {
  double longitude;
  double metres;
  double end_azimuth;
};

Trial trial_at(double azimuth, const SineCosine& u1, const SineCosine& u2) {
  const double sin_a1 = std::sin(azimuth);
  const double cos_a1 = std::cos(azimuth);
  const double sin_a0 = sin_a1 * u1.cosine;
  const double cos_a0 = std::hypot(cos_a1, sin_a1 * u1.sine);
  // North component at the end times cos of its latitude; the way ends heading north.
  const double rise = (u2.cosine - u1.cosine) * (u2.cosine + u1.cosine);
  const double north = std::sqrt(std::max(0.0, cos_a1 * cos_a1 * u1.cosine * u1.cosine + rise));
  const double sigma1 = std::atan2(u1.sine, cos_a1 * u1.cosine);
  const double sigma2 = std::atan2(u2.sine, north);
  const double omega1 = std::atan2(sin_a0 * u1.sine, cos_a1 * u1.cosine);
  const double omega2 = std::atan2(sin_a0 * u2.sine, north);
  const double k_sq = cos_a0 * cos_a0 * (kEquator * kEquator / (kPolar * kPolar) - 1);
  const auto stretch = [k_sq](double sigma) {
    const double sine = std::sin(sigma);
    return std::sqrt(1 + k_sq * sine * sine);
  };
  const double lag = integral(sigma1, sigma2, [&stretch](double sigma) {
    return (2 - kFlattening) / (1 + (1 - kFlattening) * stretch(sigma));
  });
  return {omega2 - omega1 - kFlattening * sin_a0 * lag, kPolar * integral(sigma1, sigma2, stretch),
          std::atan2(sin_a0, north)};
}

/// The problem turned so that the first place is the farther from the equator, lies south of it,
/// and the second lies east: there the longitude grows with the azimuth, so bisection cannot fail.
struct Turned {
  SineCosine u1;
  SineCosine u2;
  double turn;
  bool swapped;
  bool mirrored_north;
  bool mirrored_east;
};

Turned turned(const GroundPlace& from, const GroundPlace& to) {
  Turned t{reduced(from.latitude_deg),
           reduced(to.latitude_deg),
           turn_between(from, to),
           std::fabs(from.latitude_deg) < std::fabs(to.latitude_deg),
           false,
           false};
  if (t.swapped) {
    std::swap(t.u1, t.u2);
    t.turn = -t.turn;
  }
  t.mirrored_east = t.turn < 0;
  t.turn = std::fabs(t.turn);
  t.mirrored_north = t.u1.sine > 0;
  if (t.mirrored_north) {
    t.u1.sine = -t.u1.sine;
    t.u2.sine = -t.u2.sine;
  }
  // A place on the equator counts as just south of it, so that ways may leave it southwards.
  if (t.u1.sine == 0) t.u1.sine = -0.0;
  return t;
}

Geodesic turned_back(const Turned& t, double metres, double start, double end) {
  double azimuth = t.swapped ? end : start;
  // Seen from the other end, with north and east mirrored, the way comes in instead of going out.
  if (t.mirrored_north != t.swapped) azimuth = std::numbers::pi - azimuth;
  if (t.mirrored_east != t.swapped) azimuth = -azimuth;
  return {metres * metre, azimuth * radian};
}

}  // namespace

Result<Geodesic> geodesic_by_bisection(const GroundPlace& from, const GroundPlace& to) {
  if (auto error = place_problem(from)) return std::unexpected(*error);
  if (auto error = place_problem(to)) return std::unexpected(*error);
  const Turned t = turned(from, to);
  const bool on_equator = t.u1.sine == 0 && t.u2.sine == 0;
  if (on_equator && t.turn <= std::numbers::pi * (1 - kFlattening)) {
    return turned_back(t, kEquator * t.turn, std::numbers::pi / 2, std::numbers::pi / 2);
  }
  double low = 0;
  double high = std::numbers::pi;
  for (int i = 0; i < 70; ++i) {
    const double middle = (low + high) / 2;
    (trial_at(middle, t.u1, t.u2).longitude < t.turn ? low : high) = middle;
  }
  const double azimuth = (low + high) / 2;
  const Trial trial = trial_at(azimuth, t.u1, t.u2);
  return turned_back(t, trial.metres, azimuth, trial.end_azimuth);
}

Result<Geodesic> geodesic(const GroundPlace& from, const GroundPlace& to) {
  if (auto error = place_problem(from)) return std::unexpected(*error);
  if (auto error = place_problem(to)) return std::unexpected(*error);
  if (const auto found = vincenty(from, to)) return *found;
  return geodesic_by_bisection(from, to);
}

}  // namespace rollwright::mech
