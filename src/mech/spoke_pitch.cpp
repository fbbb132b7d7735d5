#include "mech/spoke_pitch.hpp"

#include <fmt/format.h>

#include <cmath>
#include <numbers>

#include "base/text.hpp"
#include "mech/field_range.hpp"

namespace rollwright::mech {
namespace {

constexpr double kLeastTension = 20;
constexpr double kMostTension = 5000;

/// The spoke in SI numbers.
struct Beam {
  double length_m;
  double bending_nm2;  // E I
  double kg_per_metre;
  SpokeEndsHeld ends;
};

Beam beam_of(const SoundingSpoke& spoke) {
  const double d = spoke.diameter.in(metre);
  const double modulus_pa = spoke.modulus.in(megapascal) * 1e6;
  return {spoke.length.in(metre), modulus_pa * std::numbers::pi / 64 * d * d * d * d,
          spoke.density_kg_per_m3 * std::numbers::pi / 4 * d * d, spoke.ends};
}

/// Frequency equation of a clamped beam under tension, divided by cosh(aL) so that it stays small.
/// Its first sign change above zero is the lowest mode.
double clamped_equation(const Beam& beam, double tension, double hz) {
  const double omega = 2 * std::numbers::pi * hz;
  const double q = tension / beam.bending_nm2;
  const double r = beam.kg_per_metre * omega * omega / beam.bending_nm2;
  const double root = std::sqrt(q * q / 4 + r);
  const double a = std::sqrt(root + q / 2);
  // root - q / 2 loses digits when the tension rules; this form does not.
  const double b = std::sqrt(r / (root + q / 2));
  const double al = a * beam.length_m;
  const double bl = b * beam.length_m;
  return 2 * a * b * (1 / std::cosh(al) - std::cos(bl)) +
         (a * a - b * b) * std::tanh(al) * std::sin(bl);
}

double string_hz(const Beam& beam, double tension) {
  return std::sqrt(tension / beam.kg_per_metre) / (2 * beam.length_m);
}

double pinned_hz(const Beam& beam, double tension) {
  const double stiffening =
      std::numbers::pi * std::numbers::pi * beam.bending_nm2 / (tension * beam.length_m * beam.length_m);
  return string_hz(beam, tension) * std::sqrt(1 + stiffening);
}

double clamped_hz(const Beam& beam, double tension) {
  // The lowest clamped mode lies above the pinned one and below the second pinned mode. Between
  // them the equation has exactly one root; it is positive at the lower end.
  double low = pinned_hz(beam, tension);
  double high = low;
  const bool start = clamped_equation(beam, tension, low) > 0;
  while ((clamped_equation(beam, tension, high) > 0) == start) high *= 1.05;
  for (int i = 0; i < 80; ++i) {
    const double middle = (low + high) / 2;
    ((clamped_equation(beam, tension, middle) > 0) == start ? low : high) = middle;
  }
  return (low + high) / 2;
}

double lowest_hz(const Beam& beam, double tension) {
  switch (beam.ends) {
    case SpokeEndsHeld::kString:
      return string_hz(beam, tension);
    case SpokeEndsHeld::kPinned:
      return pinned_hz(beam, tension);
    case SpokeEndsHeld::kClamped:
      break;
  }
  return clamped_hz(beam, tension);
}

std::optional<Error> spoke_problem(const SoundingSpoke& spoke) {
  return first_outside({{"sounding length", spoke.length.in(mm), 50, 400, "mm"},
                        {"spoke diameter", spoke.diameter.in(mm), 0.8, 4, "mm"},
                        {"density", spoke.density_kg_per_m3, 1000, 20000, "kg/m³"},
                        {"elastic modulus", spoke.modulus.in(gigapascal), 50, 250, "GPa"}});
}

}  // namespace

Result<Frequency> spoke_pitch(const SoundingSpoke& spoke, Force tension) {
  if (auto error = spoke_problem(spoke)) return std::unexpected(*error);
  if (auto error =
          first_outside({{"tension", tension.in(newton), kLeastTension, kMostTension, "N"}})) {
    return std::unexpected(*error);
  }
  return lowest_hz(beam_of(spoke), tension.in(newton)) * hertz;
}

Result<Force> spoke_tension(const SoundingSpoke& spoke, Frequency pitch) {
  if (auto error = spoke_problem(spoke)) return std::unexpected(*error);
  const Beam beam = beam_of(spoke);
  const double least_hz = lowest_hz(beam, kLeastTension);
  const double most_hz = lowest_hz(beam, kMostTension);
  if (!(least_hz <= pitch.in(hertz) && pitch.in(hertz) <= most_hz)) {
    return refuse(Code::kOutOfRange,
                  fmt::format("This spoke sounds between {} and {} Hz at any sensible tension; {} "
                              "Hz is not its lowest pitch.",
                              rounded(least_hz, 1), rounded(most_hz, 1),
                              std::isfinite(pitch.in(hertz)) ? rounded(pitch.in(hertz), 1) : "?"),
                  {.field = "pitch"});
  }
  double low = kLeastTension;
  double high = kMostTension;
  for (int i = 0; i < 80; ++i) {
    const double middle = (low + high) / 2;
    (lowest_hz(beam, middle) < pitch.in(hertz) ? low : high) = middle;
  }
  return (low + high) / 2 * newton;
}

}  // namespace rollwright::mech
