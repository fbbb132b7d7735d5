#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "build/aid_filling.hpp"
#include "build/ride_loads.hpp"
#include "mech/ride_values.hpp"
#include "mech/tyre.hpp"

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
  const std::string brake = filling.at_end("brake");
  if (const auto fluid = filling.reader().word_if_known(brake, "brake_fluid")) {
    const bool listed = fluid == "DOT 4" || fluid == "DOT 5.1";
    filling.set("fluid", listed ? *fluid : "another or none",
                origin_of(filling.reader(), brake, "brake_fluid") + " " + *fluid);
  }
  filling.computed("area", [&](FactReader& reader) { return rotor_area(reader, rotor); });
}

void route_heat(AidFilling& filling) {
  filling.along_route();
  fill_rotor(filling);
}

/// Pads press a little inside the rotor's edge: 7 mm, common practice.
std::optional<Told> pad_radius(FactReader& facts, const std::string& rotor) {
  const auto diameter = facts.number(rotor, "rotor_diameter");
  if (!diameter) return std::nullopt;
  return Told{rounded(*diameter / 2 - 7, 0) + " mm",
              facts.named(rotor) + ": half of its diameter less 7 mm"};
}

void brake_force(AidFilling& filling) {
  const std::string rotor = filling.at_end("rotor");
  const std::string brake = filling.reader().named(filling.at_end("brake"));
  filling.ask("lever_ratio", brake + ": the ratio of the lever is not stated");
  filling.ask("calliper_ratio", brake + ": the ratio of the calliper is not stated");
  filling.computed("pad_radius", [&](FactReader& facts) { return pad_radius(facts, rotor); });
  filling.computed("tyre_radius", [&](FactReader& facts) -> std::optional<Told> {
    const std::string tyre = filling.end() + "_tyre";
    const auto width = facts.number(tyre, "tyre_width");
    const auto seat = facts.number(tyre, "bead_seat_diameter");
    if (!width || !seat) return std::nullopt;
    const Length diameter = mech::tyre_diameter({*width * mm, *seat * mm});
    return Told{rounded(diameter.in(mm) / 2, 0) + " mm", facts.named(tyre)};
  });
}

void mass_limits(AidFilling& filling) {
  filling.computed("whole", whole_mass);
  filling.fact("frame", "frame", "permitted_total_mass");
  filling.fact_if_known("fork", "fork", "max_system_mass");
  for (const std::string end : {"front", "rear"}) {
    filling.fact_if_known(end + "_wheel", rim_slot(filling.reader(), end), "max_system_mass");
    filling.fact_if_known(end + "_brake", end + "_brake", "brake_system_mass_max");
  }
}

}  // namespace

AidFills brake_aid_fields() {
  return {{"stopping", stopping},
          {"rotor-heat", fill_rotor},
          {"route-heat", route_heat},
          {"brake-force", brake_force},
          {"mass-limits", mass_limits}};
}

}  // namespace rollwright::build
