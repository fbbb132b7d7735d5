#include "mech/belt_reading.hpp"

#include <cmath>

#include "mech/field_range.hpp"

namespace rollwright::mech {

Result<LineDensity> belt_mass_per_metre(Mass weighed, int belt_teeth, Length pitch) {
  if (auto error = first_outside({{"belt teeth", static_cast<double>(belt_teeth), 20, 400, ""},
                                  {"belt pitch", pitch.in(mm), 2, 20, "mm"}})) {
    return std::unexpected(*error);
  }
  const double per_metre = weighed.in(kg) / (belt_teeth * pitch).in(metre);
  if (auto error = first_outside({{"belt mass", per_metre, 0.01, 0.5, "kg/m"}})) {
    return std::unexpected(*error);
  }
  return per_metre * kg_per_metre;
}

Result<BeltReading> belt_reading(const BeltHeard& heard) {
  if (auto error = first_outside(
          {{"uncertainty of the pitch", heard.pitch_uncertainty.in(hertz), 0, 20, "Hz"},
           {"uncertainty of the span", heard.span_uncertainty.in(mm), 0, 20, "mm"},
           {"uncertainty of the mass", heard.mass_uncertainty.in(kg_per_metre), 0, 0.1, "kg/m"}})) {
    return std::unexpected(*error);
  }
  const auto tension = belt_tension(heard.span, heard.pitch);
  if (!tension) return std::unexpected(tension.error());
  const double relative = std::hypot(2 * (heard.pitch_uncertainty / heard.pitch),
                                     2 * (heard.span_uncertainty / heard.span.span),
                                     heard.mass_uncertainty / heard.span.mass);
  return BeltReading{*tension, relative * *tension};
}

PluckAsked pluck_of_belt() { return {20 * hertz, 150 * hertz, 0.002}; }

}  // namespace rollwright::mech
