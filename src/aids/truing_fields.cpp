#include "aids/truing_fields.hpp"

#include "aids/wheel_fields.hpp"
#include "mech/spoke_stretch.hpp"
#include "mech/wheel_lacing.hpp"

namespace rollwright::aids {

namespace {

constexpr double kSteelGigaPascal = 200;

void add_limits(std::vector<Input>& fields) {
  fields.push_back(millimetres("most_lateral", "Allowed sideways", "0.5", "greatest less least"));
  fields.push_back(millimetres("most_radial", "Allowed up and down", "0.5"));
}

void add_side(const std::string& side, std::vector<Input>& fields) {
  const bool left = side == "left";
  fields.push_back(amount("tension_" + side, "Tension to build to, " + side, Dimension::kForce,
                          left ? "540 N" : "1100 N"));
  fields.push_back(millimetres("circle_" + side, "Circle of spoke holes, " + side, "45"));
  fields.push_back(millimetres("offset_" + side, "Flange from the middle, " + side,
                               left ? "37" : "18"));
  fields.push_back(count("holes_" + side, "Holes, " + side, "16"));
  fields.push_back(plain_number("crosses_" + side, "Crosses, " + side, "3"));
}

void add_rim_and_spokes(std::vector<Input>& fields) {
  fields.push_back(amount("highest", "No spoke above", Dimension::kForce, "1300 N",
                          "the strictest of the rim's and the spokes' limits"));
  fields.push_back(millimetres("rim_diameter", "Effective rim diameter", "602"));
  fields.push_back(millimetres("nipples_towards_left", "Nipples off the middle, to the left", "0"));
  fields.push_back(millimetres("spoke_middle", "Spoke diameter, middle", "1.8"));
  fields.push_back(rim_field());
}

}  // namespace

std::vector<Input> truing_reading_fields() {
  return {plain_numbers("lateral", "Sideways readings, mm",
                        "0.4 0.5 0.5 0.4 0.2 0 -0.2 -0.3 -0.3 -0.2 -0.1 0 0 0 0 0.1",
                        "evenly around, the first at the first spoke; towards the left is plus"),
          plain_numbers("radial", "Up-and-down readings, mm",
                        "0.1 0.1 0.1 0 0 0 0 -0.1 -0.1 0 0 0 0 0 0.1 0.1",
                        "at the same places; towards the axle is plus"),
          plain_numbers("tensions", "Tensions, N", "",
                        "in order around the rim, left first, 0 for not read; may stay empty"),
          plain_number("meter", "Meter's uncertainty, per cent", "5"),
          amount("dish", "Rim off the middle, to the left", Dimension::kLength, "",
                 "may stay empty: then it is only kept from moving")};
}

std::vector<Input> truing_fields() {
  std::vector<Input> fields = truing_reading_fields();
  fields.push_back(text("earlier", "Earlier passes", "",
                        "as the last answer wrote them; empty for the first pass"));
  add_limits(fields);
  for (const char* side : {"left", "right"}) add_side(side, fields);
  add_rim_and_spokes(fields);
  return fields;
}

Result<mech::TruingWheel> truing_wheel(const Given& given) {
  const auto spring = mech::spoke_spring({{280 * mm, given.amount("spoke_middle", mm)}},
                                         kSteelGigaPascal * mech::gigapascal);
  if (!spring) return std::unexpected(spring.error());
  const auto side = [&](const std::string& name) {
    return mech::LacedSide{.flange = {.circle = given.amount("circle_" + name, mm),
                                      .offset = given.amount("offset_" + name, mm),
                                      .holes = given.count("holes_" + name),
                                      .crosses = given.number("crosses_" + name)},
                           .rigidity = spring->rigidity,
                           .tension = given.amount("tension_" + name, newton)};
  };
  const auto spokes = mech::laced({.left = side("left"), .right = side("right"),
                                   .nipple_circle = given.amount("rim_diameter", mm),
                                   .nipples_towards_left =
                                       given.amount("nipples_towards_left", mm)});
  if (!spokes) return std::unexpected(spokes.error());
  return mech::TruingWheel::of(rim_given(given), *spokes);
}

mech::TruingLimits truing_limits(const Given& given) {
  return {.lateral = given.amount("most_lateral", mm),
          .radial = given.amount("most_radial", mm),
          .left = given.amount("tension_left", newton),
          .right = given.amount("tension_right", newton),
          .highest = given.amount("highest", newton)};
}

}  // namespace rollwright::aids
