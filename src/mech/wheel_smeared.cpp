#include "mech/wheel_smeared.hpp"

#include <cmath>
#include <numbers>

#include "mech/field_range.hpp"

namespace rollwright::mech {
namespace {

constexpr double kCircle = 2 * std::numbers::pi;
constexpr int kMostModes = 200;
constexpr int kMostBucklingWaves = 20;

double radius_m(const SmearedWheel& wheel) { return wheel.rim.radius.in(metre); }

/// N/m: pi R k, the stiffness of a bed of k against any shape cos(n angle).
double bed(const SmearedWheel& wheel, double per_length) {
  return std::numbers::pi * radius_m(wheel) * per_length;
}

/// N/m, of the rim's bending in its plane against `waves` waves.
double radial_bending(const SmearedWheel& wheel, int waves) {
  const double n2 = static_cast<double>(waves) * waves;
  return std::numbers::pi * wheel.rim.bending_radial * (n2 - 1) * (n2 - 1) /
         std::pow(radius_m(wheel), 3);
}

/// N/m, of the rim's length and the spokes against an even change of radius.
double breathing(const SmearedWheel& wheel) {
  const double r = radius_m(wheel);
  return kCircle * (wheel.rim.rigidity.in(newton) / r + r * wheel.radial);
}

}  // namespace

Result<SmearedWheel> smeared(const RimSection& rim, const std::vector<WheelSpoke>& spokes,
                             double elbow_factor) {
  if (const auto fit = checked(rim); !fit) return std::unexpected(fit.error());
  if (auto error = first_outside({{"spokes", static_cast<double>(spokes.size()), 8, 144, ""},
                                  {"elbow factor", elbow_factor, 0.3, 1, ""}})) {
    return std::unexpected(*error);
  }
  SmearedWheel wheel{.rim = rim};
  const double round = kCircle * rim.radius.in(metre);
  double tension = 0, pull = 0, side = 0, plain_pull = 0, plain_side = 0;
  for (const WheelSpoke& spoke : spokes) {
    const double path = spoke.path.in(metre);
    const double stretch = spoke.rigidity.in(newton) / path / round;
    const double string = spoke.tension.in(newton) / path / round;
    const double u2 = spoke.lateral * spoke.lateral;
    const double v2 = spoke.radial * spoke.radial;
    const double w2 = spoke.tangential * spoke.tangential;
    wheel.lateral_slack += elbow_factor * stretch * u2;
    wheel.lateral += elbow_factor * stretch * u2 + string * (1 - u2);
    wheel.radial += stretch * v2 + string * (1 - v2);
    wheel.tangential += stretch * w2 + string * (1 - w2);
    tension += spoke.tension.in(newton);
    pull += spoke.tension.in(newton) * spoke.radial;
    side += spoke.tension.in(newton) * (1 - u2) / path;
    plain_pull += spoke.radial;
    plain_side += (1 - u2) / path;
  }
  const double count = static_cast<double>(spokes.size());
  wheel.line_tension = pull / round;
  wheel.mean_tension = tension / count;
  // A slack wheel has no proportions of its own; all spokes alike are taken.
  wheel.straightening = tension > 0 ? side / pull : plain_side / plain_pull;
  wheel.pull_per_tension = (tension > 0 ? pull / tension * count : plain_pull) / round;
  return wheel;
}

double mode_stiffness(const SmearedWheel& wheel, int waves) {
  if (waves == 0) return 2 * bed(wheel, wheel.lateral) / 1000;
  const double softening = std::numbers::pi * waves * waves * wheel.line_tension;
  return rim_lateral_stiffness(wheel.rim, waves) + (bed(wheel, wheel.lateral) - softening) / 1000;
}

double lateral_stiffness(const SmearedWheel& wheel) {
  double give = 0;
  for (int n = 0; n <= kMostModes; ++n) give += 1 / mode_stiffness(wheel, n);
  return 1 / give;
}

double lateral_stiffness_of_rigid_rim(const SmearedWheel& wheel) {
  return bed(wheel, wheel.lateral) * 2 / 3 / 1000;
}

double radial_stiffness(const SmearedWheel& wheel, RimLength length) {
  const double r = radius_m(wheel);
  const double bending = wheel.rim.bending_radial / std::pow(r, 3);
  const double eta = std::sqrt(1 + wheel.radial * r / bending);
  const double a = std::numbers::pi * std::sqrt((eta - 1) / 2);
  const double b = std::numbers::pi * std::sqrt((eta + 1) / 2);
  const double sinh = std::sinh(a);
  const double sin = std::sin(b);
  // a and b carry a factor pi here, so one pi stays in front.
  const double top = std::numbers::pi * (b * sinh * std::cosh(a) + a * sin * std::cos(b));
  const double bracket = top / (4 * a * b * eta * (sinh * sinh + sin * sin)) -
                         1 / (kCircle * eta * eta);
  double give = bracket / bending;
  if (length == RimLength::kElastic) give += 1 / breathing(wheel);
  return 1 / give / 1000;
}

double radial_stiffness_by_modes(const SmearedWheel& wheel, int modes) {
  double give = 0;
  for (int n = 1; n <= modes; ++n) {
    give += 1 / (bed(wheel, wheel.radial) + radial_bending(wheel, n));
  }
  return 1 / give / 1000;
}

double radial_stiffness_of_straight_beam(const SmearedWheel& wheel) {
  const double beta = std::pow(wheel.radial / (4 * wheel.rim.bending_radial), 0.25);
  return 2 * wheel.radial / beta / 1000;
}

double tangential_stiffness(const SmearedWheel& wheel) {
  return kCircle * radius_m(wheel) * wheel.tangential / 1000;
}

WheelBuckling buckling(const SmearedWheel& wheel) {
  WheelBuckling least;
  for (int n = 2; n <= kMostBucklingWaves; ++n) {
    const double stiffness =
        1000 * rim_lateral_stiffness(wheel.rim, n) + bed(wheel, wheel.lateral_slack);
    const double softening = std::numbers::pi * (n * n - radius_m(wheel) * wheel.straightening);
    const double line = stiffness / softening;
    if (n == 2 || line < least.line_tension) {
      least = {.waves = n, .line_tension = line, .mean_tension = {}, .advised = {}};
    }
  }
  least.mean_tension = least.line_tension / wheel.pull_per_tension * newton;
  least.advised = 0.5 * least.mean_tension;  // [wheel-thesis]
  return least;
}

double buckling_of_limp_rim(const SmearedWheel& wheel) {
  return 1.89 * std::cbrt(wheel.rim.torsion / radius_m(wheel)) *
         std::pow(wheel.lateral_slack, 2.0 / 3);
}

double buckling_on_stiff_spokes(const SmearedWheel& wheel) {
  return 2 * std::sqrt(wheel.lateral_slack * wheel.rim.bending_lateral) / radius_m(wheel);
}

}  // namespace rollwright::mech
