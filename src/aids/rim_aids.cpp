#include <fmt/format.h>

#include "aids/aids.hpp"
#include "base/text.hpp"
#include "mech/rim_section.hpp"

// A bare rim on a thread.
namespace rollwright::aids {

namespace {

Row stiffness(const char* name, double newton_square_metres, std::string note) {
  return {name, rounded(newton_square_metres, 1) + " N·m²", "", std::move(note)};
}

Result<Reckoned> rim_tones(const Given& given) {
  const mech::RimTones tones{.mass = given.amount("mass", kg),
                             .radius = 0.5 * given.amount("diameter", mm),
                             .two = given.amount("two", hertz),
                             .three = given.amount("three", hertz)};
  const auto found = mech::rim_of_tones(tones);
  if (!found) return std::unexpected(found.error());
  Reckoned reckoned{.rows = {stiffness("Sideways bending, EI", found->bending_lateral,
                                       "1 % in a tone moves it by about 15 %"),
                             stiffness("Torsion, GJ", found->torsion,
                                       "1 % in a tone moves it by about 3 %")}};
  const mech::RimSection rim{.radius = tones.radius,
                             .bending_radial = found->bending_lateral,
                             .bending_lateral = found->bending_lateral,
                             .torsion = found->torsion,
                             .rigidity = 20e6 * newton};  // not read by sideways tones
  const auto four = mech::rim_lateral_tone(rim, tones.mass, 4);
  if (!four) return std::unexpected(four.error());
  reckoned.rows.push_back(row("The next tone, with four waves",
                              {four->in(hertz), Dimension::kFrequency, "Hz", 0},
                              "hear whether it is there: then both tones were the right ones"));
  return reckoned;
}

Aid rim_tones_aid() {
  return {.id = "rim-tones", .title = "Stiffness of a rim from its tones",
          .lead = "Hang a bare rim on a thread, strike it sideways, and read how stiff it is.",
          .inputs = {amount("mass", "Mass of the bare rim", Dimension::kMass, "500 g"),
                     amount("diameter", "Diameter of the middle of its section", Dimension::kLength,
                            "610 mm", "a few millimetres over the effective rim diameter"),
                     amount("two", "Lowest tone", Dimension::kFrequency, "50 Hz",
                            "struck sideways, half way between two points of rest"),
                     amount("three", "Next tone, struck sideways", Dimension::kFrequency, "150 Hz",
                            "2.7 to 4 times the lowest")},
          .method = "Tones of a thin even ring with two and three waves around it. The valve hole and "
                    "the joint are left aside.",
          .source = "wheel-thesis",
          .caution = "",
          .reckon = rim_tones};
}

}  // namespace

std::vector<Aid> rim_aids() { return {rim_tones_aid()}; }

}  // namespace rollwright::aids
