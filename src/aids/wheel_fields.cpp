#include "aids/wheel_fields.hpp"

#include <algorithm>

namespace rollwright::aids {

namespace {

struct KnownRim {
  const char* name;
  double bending_radial, bending_lateral, torsion;  // N m², [wheel-thesis]
};
constexpr KnownRim kKnownRims[] = {
    {"double-wall, shallow", 111, 219, 26.3},
    {"double-wall, deep", 180, 206, 94},   // radial value estimated
    {"single-wall", 80, 158, 16.8},        // radial value estimated
};
constexpr double kRimSectionMegaNewton = 6.9;

}  // namespace

std::vector<Input> wheel_geometry_fields() {
  std::vector<Input> fields{
      millimetres("rim_diameter", "Effective rim diameter", "602",
                  "through the ends of the spokes; measure it, printed values differ"),
      millimetres("nipples_towards_left", "Nipples off the middle, to the left", "0",
                  "negative: to the right")};
  for (const char* side : {"left", "right"}) {
    const std::string s = side;
    const std::string where = ", " + s;
    fields.push_back(millimetres("circle_" + s, "Circle of spoke holes" + where, "45"));
    fields.push_back(millimetres("offset_" + s, "Flange from the middle" + where,
                                 s == "left" ? "37" : "18",
                                 "middle between the locknuts to the middle of the flange"));
    fields.push_back(count("holes_" + s, "Holes" + where, "16"));
    fields.push_back(plain_number("crosses_" + s, "Crosses" + where, "3"));
  }
  fields.push_back(millimetres("spoke_hole", "Spoke hole in the flange", "2.6"));
  return fields;
}

mech::WheelGeometry wheel_geometry(const Given& given) {
  const auto flange = [&](const std::string& side) {
    return mech::Flange{.circle = given.amount("circle_" + side, mm),
                        .offset = given.amount("offset_" + side, mm),
                        .holes = given.count("holes_" + side),
                        .crosses = given.number("crosses_" + side)};
  };
  return {.left = flange("left"), .right = flange("right"),
          .rim_diameter = given.amount("rim_diameter", mm),
          .nipples_towards_left = given.amount("nipples_towards_left", mm),
          .spoke_hole = given.amount("spoke_hole", mm)};
}

Input rim_field() {
  std::vector<std::string> rims;
  for (const KnownRim& rim : kKnownRims) rims.emplace_back(rim.name);
  return choice("rim", "Rim", std::move(rims),
                "stiffness as in published tests; up and down estimated for the last two");
}

mech::RimSection rim_given(const Given& given) {
  const KnownRim& known = *std::ranges::find_if(
      kKnownRims, [&](const KnownRim& rim) { return given.word("rim") == rim.name; });
  return {.radius = 0.5 * given.amount("rim_diameter", mm),
          .bending_radial = known.bending_radial,
          .bending_lateral = known.bending_lateral,
          .torsion = known.torsion,
          .rigidity = kRimSectionMegaNewton * 1e6 * newton};
}

}  // namespace rollwright::aids
