#include "mech/spoke_stretch.hpp"

#include <cmath>
#include <numbers>

#include "mech/field_range.hpp"

namespace rollwright::mech {
namespace {

double round_area_mm2(Length diameter) {
  const double d = diameter.in(mm);
  return std::numbers::pi / 4 * d * d;
}

/// A stress in MPa is a force in N on each mm².
Force force_of(Pressure stress, double area_mm2) {
  return stress.in(megapascal) * area_mm2 * newton;
}

}  // namespace

Result<SpokeSpring> spoke_spring(const std::vector<SpokeSection>& sections, Pressure modulus) {
  if (auto error =
          first_outside({{"elastic modulus", modulus.in(gigapascal), 50, 250, "GPa"},
                         {"spoke sections", static_cast<double>(sections.size()), 1, 20, ""}})) {
    return std::unexpected(*error);
  }
  Length whole;
  double mm_per_newton = 0;
  for (const SpokeSection& section : sections) {
    if (auto error = first_outside({{"section length", section.length.in(mm), 1, 400, "mm"},
                                    {"section diameter", section.diameter.in(mm), 0.8, 4, "mm"}})) {
      return std::unexpected(*error);
    }
    whole += section.length;
    mm_per_newton +=
        section.length.in(mm) / force_of(modulus, round_area_mm2(section.diameter)).in(newton);
  }
  const Force rigidity = whole.in(mm) / mm_per_newton * newton;
  const double area = rigidity.in(newton) / modulus.in(megapascal);
  return SpokeSpring{whole, rigidity, std::sqrt(4 * area / std::numbers::pi) * mm, modulus};
}

Result<Length> spoke_stretch(const SpokeSpring& spoke, Force tension) {
  if (auto error = first_outside({{"tension", tension.in(newton), 0, 5000, "N"},
                                  {"rigidity", spoke.rigidity.in(newton), 1e3, 1e7, "N"}})) {
    return std::unexpected(*error);
  }
  return tension / spoke.rigidity * spoke.length;
}

Result<Force> spoke_force_at(Pressure limit, Length diameter) {
  if (auto error = first_outside({{"stress", limit.in(megapascal), 1, 3000, "MPa"},
                                  {"spoke diameter", diameter.in(mm), 0.8, 4, "mm"}})) {
    return std::unexpected(*error);
  }
  return force_of(limit, round_area_mm2(diameter));
}

Result<RimShrink> rim_shrink(const RimLoad& load) {
  if (auto error = first_outside({{"spokes", static_cast<double>(load.spokes), 8, 144, ""},
                                  {"tension", load.tension.in(newton), 0, 5000, "N"},
                                  {"rim radius", load.radius.in(mm), 75, 400, "mm"},
                                  {"rim rigidity", load.rigidity.in(newton), 1e5, 1e8, "N"}})) {
    return std::unexpected(*error);
  }
  const Force hoop = load.spokes / (2 * std::numbers::pi) * load.tension;
  return RimShrink{hoop, hoop / load.rigidity * load.radius};
}

}  // namespace rollwright::mech
