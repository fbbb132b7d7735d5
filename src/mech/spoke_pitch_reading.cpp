#include "mech/spoke_pitch_reading.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "mech/field_range.hpp"

namespace rollwright::mech {
namespace {

constexpr Force kLeastRead = 20 * newton;
constexpr Force kMostRead = 5000 * newton;

Result<double> held_hz(SoundingSpoke spoke, Force tension, double held) {
  spoke.ends = SpokeEndsHeld::kPinned;
  const auto pinned = spoke_pitch(spoke, tension);
  if (!pinned) return std::unexpected(pinned.error());
  spoke.ends = SpokeEndsHeld::kClamped;
  const auto clamped = spoke_pitch(spoke, tension);
  if (!clamped) return std::unexpected(clamped.error());
  return (1 - held) * pinned->in(hertz) + held * clamped->in(hertz);
}

Result<Force> held_tension(const SoundingSpoke& spoke, double hz, double held) {
  const auto least = held_hz(spoke, kLeastRead, held);
  if (!least) return std::unexpected(least.error());
  const auto most = held_hz(spoke, kMostRead, held);
  if (!most) return std::unexpected(most.error());
  if (auto error = first_outside({{"pitch of this spoke", hz, *least, *most, "Hz"}})) {
    return std::unexpected(*error);
  }
  Force low = kLeastRead;
  Force high = kMostRead;
  for (int i = 0; i < 60; ++i) {
    const Force middle = (low + high) / 2;
    const auto here = held_hz(spoke, middle, held);
    if (!here) return std::unexpected(here.error());
    (*here < hz ? low : high) = middle;
  }
  return (low + high) / 2;
}

std::optional<Error> heard_problem(const SpokeHeard& heard, const SpokeEndsFound& ends) {
  return first_outside(
      {{"uncertainty of the pitch", heard.pitch_uncertainty.in(hertz), 0, 100, "Hz"},
       {"uncertainty of the length", heard.length_uncertainty.in(mm), 0, 20, "mm"},
       {"uncertainty of the diameter", heard.diameter_uncertainty.in(mm), 0, 0.2, "mm"},
       {"how the ends are held", ends.held, 0, 1, ""},
       {"uncertainty of the ends", ends.held_uncertainty, 0, 1, ""},
       {"calibration factor", ends.factor, 0.5, 2, ""},
       {"uncertainty of the factor", ends.factor_uncertainty, 0, 0.5, ""}});
}

/// Change of the tension that a change of one number makes. A tenth of the step, times ten: a spoke
/// near the end of its range still has both.
Result<Force> shift(const SpokeHeard& moved, double held, Force tension) {
  const auto there = held_tension(moved.spoke, moved.pitch.in(hertz), held);
  if (!there) return std::unexpected(there.error());
  return 10 * (*there > tension ? *there - tension : tension - *there);
}

Force together(std::initializer_list<Force> shares) {
  double squares = 0;
  for (const Force share : shares) squares += share.in(newton) * share.in(newton);
  return std::sqrt(squares) * newton;
}

}  // namespace

Result<SpokeReading> spoke_reading(const SpokeHeard& heard, const SpokeEndsFound& ends) {
  if (auto error = heard_problem(heard, ends)) return std::unexpected(*error);
  const auto plain = held_tension(heard.spoke, heard.pitch.in(hertz), ends.held);
  if (!plain) return std::unexpected(plain.error());
  SpokeHeard sharper = heard;
  sharper.pitch += heard.pitch_uncertainty / 10;
  SpokeHeard longer = heard;
  longer.spoke.length += heard.length_uncertainty / 10;
  SpokeHeard thicker = heard;
  thicker.spoke.diameter += heard.diameter_uncertainty / 10;
  const double step = ends.held_uncertainty / (ends.held > 0.5 ? -10 : 10);
  const auto pitch = shift(sharper, ends.held, *plain);
  const auto length = shift(longer, ends.held, *plain);
  const auto diameter = shift(thicker, ends.held, *plain);
  const auto held = shift(heard, ends.held + step, *plain);
  for (const auto* share : {&pitch, &length, &diameter, &held}) {
    if (!*share) return std::unexpected(share->error());
  }
  SpokeReading reading{.tension = ends.factor * *plain,
                       .from_pitch = ends.factor * *pitch,
                       .from_length = ends.factor * *length,
                       .from_diameter = ends.factor * *diameter};
  reading.from_ends = together({ends.factor * *held, ends.factor_uncertainty * reading.tension});
  reading.uncertainty = together(
      {reading.from_pitch, reading.from_length, reading.from_diameter, reading.from_ends});
  return reading;
}

Result<SpokeEndsFound> spoke_ends_from(const SpokeHeard& heard, const MeterReading& meter) {
  const double meter_n = meter.tension.in(newton);
  if (auto error = first_outside(
          {{"meter reading", meter_n, 50, 3000, "N"},
           {"uncertainty of the meter", meter.uncertainty.in(newton), 0, 0.3 * meter_n, "N"}})) {
    return std::unexpected(*error);
  }
  const double hz = heard.pitch.in(hertz);
  const auto pinned = held_hz(heard.spoke, meter.tension, 0);
  if (!pinned) return std::unexpected(pinned.error());
  const auto clamped = held_hz(heard.spoke, meter.tension, 1);
  if (!clamped) return std::unexpected(clamped.error());
  SpokeEndsFound found{.held = std::clamp((hz - *pinned) / (*clamped - *pinned), 0.0, 1.0),
                       .held_uncertainty = 0,
                       .factor_uncertainty = meter.uncertainty / meter.tension};
  const auto plain = held_tension(heard.spoke, hz, found.held);
  if (!plain) return std::unexpected(plain.error());
  found.factor = meter.tension / *plain;
  if (0.5 <= found.factor && found.factor <= 2) return found;
  return refuse(Code::kOutOfRange,
                fmt::format("At {} Hz this spoke carries about {} N, the meter says {} N; check "
                            "the sounding length, the gauge and the meter.",
                            rounded(hz, 1), rounded(plain->in(newton), 0), rounded(meter_n, 0)),
                {.field = "meter reading"});
}

Result<PluckAsked> pluck_of_spoke(const SoundingSpoke& spoke) {
  SoundingSpoke end = spoke;
  end.ends = SpokeEndsHeld::kPinned;
  const auto least = spoke_pitch(end, 200 * newton);
  if (!least) return std::unexpected(least.error());
  end.ends = SpokeEndsHeld::kClamped;
  const auto most = spoke_pitch(end, 2000 * newton);
  if (!most) return std::unexpected(most.error());
  return PluckAsked{std::min(*least, 2000 * hertz), std::min(*most, 2500 * hertz)};
}

}  // namespace rollwright::mech
