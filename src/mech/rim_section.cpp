#include "mech/rim_section.hpp"

#include <cmath>
#include <numbers>

#include "mech/field_range.hpp"

namespace rollwright::mech {
namespace {

constexpr double kPi = std::numbers::pi;

double cube(double x) { return x * x * x; }

/// sqrt(stiffness / (2 pi R³ m)): the tone all tones of a ring are multiples of, in Hz.
double base_tone_hz(double stiffness_n_m2, const RimSection& rim, Mass mass) {
  return std::sqrt(stiffness_n_m2 / (2 * kPi * cube(rim.radius.in(metre)) * mass.in(kg)));
}

Result<RimSection> fit_to_ring(const RimSection& rim, Mass mass, int waves) {
  if (auto error = first_outside({{"rim mass", mass.in(kg), 0.1, 5, "kg"},
                                  {"waves", static_cast<double>(waves), 2, 20, ""}})) {
    return std::unexpected(*error);
  }
  return checked(rim);
}

}  // namespace

Result<RimSection> checked(const RimSection& rim) {
  if (auto error = first_outside({{"rim radius", rim.radius.in(mm), 75, 700, "mm"},
                                  {"radial rim stiffness", rim.bending_radial, 1, 1e5, "N·m²"},
                                  {"lateral rim stiffness", rim.bending_lateral, 1, 1e5, "N·m²"},
                                  {"torsional rim stiffness", rim.torsion, 0.1, 1e5, "N·m²"},
                                  {"rim rigidity", rim.rigidity.in(newton), 1e5, 1e8, "N"},
                                  {"rim warping stiffness", rim.warping, 0, 100, "N·m⁴"}})) {
    return std::unexpected(*error);
  }
  return rim;
}

double rim_lateral_stiffness(const RimSection& rim, int waves) {
  if (waves < 2) return 0;
  const double r = rim.radius.in(metre);
  const double n2 = static_cast<double>(waves) * waves;
  const double shape = kPi * (n2 - 1) * (n2 - 1) / cube(r);
  const double bend = rim.bending_lateral * shape;
  const double twist = (rim.torsion + rim.warping * n2 / (r * r)) * n2 * shape;
  return 1 / (1 / bend + 1 / twist) / 1000;
}

Result<RimLateral> rim_of_tones(const RimTones& tones) {
  if (auto error = first_outside({{"rim mass", tones.mass.in(kg), 0.1, 5, "kg"},
                                  {"rim radius", tones.radius.in(mm), 75, 400, "mm"},
                                  {"tone with two waves", tones.two.in(hertz), 5, 2000, "Hz"},
                                  {"tone with three waves", tones.three.in(hertz), 5, 8000,
                                   "Hz"}})) {
    return std::unexpected(*error);
  }
  const double ratio = tones.three / tones.two;
  const double r2 = ratio * ratio;
  if (!(9 * r2 > 64 && r2 < 16)) {
    return refuse(Code::kContradiction,
                  "The tone with three waves must be 2.67 to 4 times the one with two; check "
                  "which tones were heard.",
                  {.field = "tone with three waves"});
  }
  const double mu = (16 - r2) / (9 * r2 - 64);
  const double f2 = tones.two.in(hertz);
  const double torsion =
      (4 * mu + 1) / 18 * kPi * cube(tones.radius.in(metre)) * tones.mass.in(kg) * f2 * f2;
  return RimLateral{torsion / mu, torsion};
}

Result<Frequency> rim_radial_tone(const RimSection& rim, Mass mass, int waves) {
  if (const auto fit = fit_to_ring(rim, mass, waves); !fit) return std::unexpected(fit.error());
  const double n2 = static_cast<double>(waves) * waves;
  return waves * (n2 - 1) / std::sqrt(n2 + 1) * base_tone_hz(rim.bending_radial, rim, mass) * hertz;
}

Result<Frequency> rim_lateral_tone(const RimSection& rim, Mass mass, int waves) {
  if (const auto fit = fit_to_ring(rim, mass, waves); !fit) return std::unexpected(fit.error());
  const double n2 = static_cast<double>(waves) * waves;
  const double mu = rim.torsion / rim.bending_lateral;
  return waves * (n2 - 1) / std::sqrt(mu * n2 + 1) * base_tone_hz(rim.torsion, rim, mass) * hertz;
}

Result<Length> rim_squeeze(const RimSection& rim, Force load) {
  if (auto error = first_outside({{"load", load.in(newton), 0, 1e4, "N"}})) {
    return std::unexpected(*error);
  }
  if (const auto fit = checked(rim); !fit) return std::unexpected(fit.error());
  return load.in(newton) * cube(rim.radius.in(metre)) / (4 * rim.bending_radial) *
         (kPi - 8 / kPi) * metre;
}

double flat_ring_buckling(double torsion_over_bending, bool dead_load) {
  const double mu = torsion_over_bending;
  return (dead_load ? 9 : 12) * mu / (1 + 4 * mu);
}

}  // namespace rollwright::mech
