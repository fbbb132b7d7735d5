#include "aids/brake_force_aids.hpp"

#include <fmt/format.h>

#include "base/text.hpp"
#include "mech/brake_force.hpp"

namespace rollwright::aids {

namespace {

Row newtons(const char* name, Force force, std::string note = {}) {
  return row(name, {force.in(newton), Dimension::kForce}, std::move(note));
}

Result<Reckoned> brake_force(const Given& given) {
  const mech::BrakeChain chain{.lever_ratio = given.number("lever_ratio"),
                               .efficiency = given.number("efficiency") / 100,
                               .calliper_ratio = given.number("calliper_ratio"),
                               .friction = given.number("friction"),
                               .pad_radius = given.amount("pad_radius", mm),
                               .tyre_radius = given.amount("tyre_radius", mm)};
  const auto force = mech::brake_force(chain, given.amount("hand", newton));
  if (!force) return std::unexpected(force.error());
  Reckoned reckoned{.rows = {newtons("Braking force at the tyre", *force, "of this one brake")}};
  if (!given.has("wanted")) return reckoned;
  const auto hand = mech::hand_force(chain, given.amount("wanted", newton));
  if (!hand) return std::unexpected(hand.error());
  reckoned.rows.push_back(newtons("By hand, for the force wanted", *hand));
  return reckoned;
}

Result<Reckoned> mass_limits(const Given& given) {
  const Mass whole = given.amount("whole", kg);
  std::vector<mech::MassLimit> limits;
  Table table{.title = "Limits", .columns = {"Printed for", "At most", "Left"}, .rows = {}};
  for (const auto& [key, name] : {std::pair{"frame", "frame"}, {"fork", "fork"},
                                  {"front_wheel", "front wheel"}, {"rear_wheel", "rear wheel"},
                                  {"front_brake", "front brake"}, {"rear_brake", "rear brake"}}) {
    if (!given.has(key)) continue;
    const Mass most = given.amount(key, kg);
    limits.push_back({name, most});
    table.rows.push_back({name, with_unit(most.in(kg), "kg", 0),
                          with_unit((most - whole).in(kg), "kg", 1)});
  }
  if (limits.empty()) {
    return refuse(Code::kBadInput, "give at least one printed limit", {.field = "frame"});
  }
  const auto judged = mech::mass_within(limits, whole);
  if (!judged) return std::unexpected(judged.error());
  Reckoned reckoned{.rows = {row("At most", {judged->strictest.most.in(kg), Dimension::kMass},
                                 "set by the " + judged->strictest.name),
                             row(judged->holds ? "Left" : "Too heavy by",
                                 {(judged->holds ? judged->left : -judged->left).in(kg),
                                  Dimension::kMass})},
                    .tables = {std::move(table)}};
  if (!judged->holds) {
    reckoned.cautions = {"The whole is heavier than the " + judged->strictest.name + " allows."};
  }
  return reckoned;
}

}  // namespace

Aid brake_force_aid() {
  return {.id = "brake-force", .title = "Braking force",
          .lead = "From the hand to the tyre, for one brake.",
          .inputs = {amount("hand", "Force of the hand", Dimension::kForce, "100 N",
                            "at the point of the lever where the finger pulls"),
                     plain_number("lever_ratio", "Lever, force out over force in", "5"),
                     plain_number("efficiency", "Cable or hose passes on, per cent", "85"),
                     plain_number("calliper_ratio", "Pad force, one side, over force that arrives",
                                  "2"),
                     plain_number("friction", "Friction of the pads", "0.4", "much less when wet"),
                     amount("pad_radius", "Pads from the axle", Dimension::kLength, "73 mm",
                            "middle of the pad"),
                     amount("tyre_radius", "Tyre's radius", Dimension::kLength, "350 mm"),
                     amount("wanted", "Force wanted at the tyre", Dimension::kForce, "",
                            "may stay empty")},
          .method = "Product of the ratios, two pads, the radii. As exact as the friction, 20 % and "
                    "worse when wet; return springs and slack are left aside.",
          .source = "braking",
          .caution = "Lever and calliper are paired by their makers. A computed force releases no "
                     "brake: the standard's test comes first.",
          .reckon = brake_force};
}

Aid mass_limits_aid() {
  const auto limit = [](const char* key, const char* label, const char* preset) {
    return amount(key, label, Dimension::kMass, preset, *preset == 0 ? "may stay empty" : "");
  };
  return {.id = "mass-limits", .title = "Permitted mass",
          .lead = "The strictest of the printed limits beside what stands on the road.",
          .inputs = {amount("whole", "Bike, rider and luggage", Dimension::kMass, "110 kg"),
                     limit("frame", "Frame, permitted total", "150 kg"), limit("fork", "Fork", ""),
                     limit("front_wheel", "Front wheel", ""), limit("rear_wheel", "Rear wheel", ""),
                     limit("front_brake", "Front brake", ""), limit("rear_brake", "Rear brake", "")},
          .method = "The least of them, less the whole.",
          .source = "brake-tests",
          .caution = "What is printed holds; a part without a print may stand less.",
          .reckon = mass_limits};
}

}  // namespace rollwright::aids
