#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "build/aid_filling.hpp"
#include "build/ride_loads.hpp"
#include "mech/ride_values.hpp"

// Stopping and the heat of it.
namespace rollwright::build {
namespace {

std::optional<Told> centre_value(FactReader& facts, Length MassCentre::*which) {
  const auto centre = mass_centre(facts);
  if (!centre) return std::nullopt;
  return Told{rounded(((*centre).*which).in(mm), 0) + " mm", centre->words};
}

void stopping(AidFilling& filling) {
  filling.computed("whole", whole_mass);
  filling.fact("wheelbase", "frame", "wheelbase");
  filling.computed("behind_front", [](FactReader& facts) {
    return centre_value(facts, &MassCentre::behind_front);
  });
  filling.computed("height", [](FactReader& facts) {
    return centre_value(facts, &MassCentre::height);
  });
}

/// Both faces of a plate of steel with the rotor's mass and thickness.
std::optional<Told> rotor_area(FactReader& facts, const std::string& rotor) {
  const auto mass = facts.number(rotor, "mass");
  const auto thickness = facts.number(rotor, "rotor_thickness");
  if (!mass || !thickness) return std::nullopt;
  constexpr double kSteelKgPerM3 = 7850;
  const double area_m2 = 2 * *mass / (kSteelKgPerM3 * *thickness / 1000);
  return Told{rounded(area_m2 * 1e4, 0),
              facts.named(rotor) + ": both faces of as much steel, as thick as it is"};
}

/// Usual drag of a rider who sits so.
std::optional<Told> drag_area(FactReader& facts) {
  const auto sits = posture(facts);
  if (!sits) return std::nullopt;
  const auto areas = mech::drag_areas_m2();
  const auto row = std::ranges::find(areas, sits->typed, &mech::RideValue::name);
  ROLLWRIGHT_PROMISE(row != areas.end());
  return Told{plain(row->usual), fmt::format("usual for {}, {}", sits->typed, sits->origin)};
}

/// What both heats ask; the aid has nothing to say where this end has no rotor.
void fill_rotor(AidFilling& filling) {
  const std::string rotor = filling.at_end("rotor");
  const FactReader facts = filling.reader();
  if (facts.filled(filling.at_end("brake")) && !facts.filled(rotor)) {
    return filling.not_here(fmt::format("the {} wheel of this bike has no rotor", filling.end()));
  }
  filling.computed("whole", whole_mass);
  filling.fact("rotor", rotor, "mass");
  filling.computed("drag_area", drag_area);
  filling.computed("area", [&](FactReader& reader) { return rotor_area(reader, rotor); });
}

void route_heat(AidFilling& filling) {
  filling.along_route();
  fill_rotor(filling);
}

}  // namespace

AidFills brake_aid_fields() {
  return {{"stopping", stopping}, {"rotor-heat", fill_rotor}, {"route-heat", route_heat}};
}

}  // namespace rollwright::build
