#include <cmath>

#include <fmt/format.h>

#include "aids/aids.hpp"
#include "aids/wheel_fields.hpp"
#include "base/text.hpp"
#include "mech/spoke_length.hpp"
#include "mech/spoke_pitch_reading.hpp"
#include "mech/tension_ratio.hpp"

namespace rollwright::aids {

namespace {

Row length_row(std::string name, Length length, std::string note = {}, int decimals = 1) {
  return row(std::move(name), {length.in(mm), Dimension::kLength, "mm", decimals},
             std::move(note));
}

/// What one side comes to, line by line.
Result<void> add_side(const std::string& side, const mech::SpokeLine& line, const Given& given,
                      Reckoned& reckoned) {
  reckoned.rows.push_back(length_row("Spoke, " + side, line.length,
                                     "inside of the elbow to the end of the thread"));
  std::vector<Length> stock;
  for (const double length : given.has("stock") ? given.numbers("stock") : std::vector<double>()) {
    stock.push_back(length * mm);
  }
  if (!stock.empty()) {
    const auto taken = mech::stock_length(line.length, stock);
    if (!taken) return std::unexpected(taken.error());
    reckoned.rows.push_back(length_row(
        "From the drawer, " + side, taken->length,
        fmt::format("{} mm {} than reckoned", rounded(std::abs(taken->difference.in(mm)), 1),
                    taken->difference.in(mm) < 0 ? "shorter" : "longer"), 0));
  }
  reckoned.rows.push_back(row("Bracing angle, " + side,
                              {line.bracing.in(radian), Dimension::kAngle, "°", 2}));
  reckoned.rows.push_back(row("Nipple tilt, " + side,
                              {line.nipple_tilt.in(radian), Dimension::kAngle, "°", 1},
                              "the rim and the nipple allow about 5 to 8° (from memory)"));
  return {};
}

Result<void> add_crossings(const mech::WheelGeometry& wheel, Reckoned& reckoned) {
  for (const auto& [side, flange] : {std::pair{"left", wheel.left}, {"right", wheel.right}}) {
    const auto most = mech::most_crosses(flange.circle, wheel.rim_diameter, flange.holes);
    if (!most) return std::unexpected(most.error());
    reckoned.rows.push_back({fmt::format("Most crosses, {}", side), std::to_string(*most), "",
                             "beyond it a spoke runs over its neighbours' heads"});
  }
  return {};
}

Result<void> add_tension(const mech::WheelSpokes& spokes, const Given& given,
                         Reckoned& reckoned) {
  if (!given.has("rim_limit")) return {};
  mech::TensionLimits limits{.rim_limit = given.amount("rim_limit", newton),
                             .spread = given.number("spread") / 100};
  if (given.has("tight_most")) limits.tight_most = given.amount("tight_most", newton);
  const auto targets = mech::tension_targets(spokes, limits);
  if (!targets) return std::unexpected(targets.error());
  reckoned.rows.push_back(row("Tension to build to, left",
                              {targets->left.in(newton), Dimension::kForce}));
  reckoned.rows.push_back(row("Tension to build to, right",
                              {targets->right.in(newton), Dimension::kForce}));
  const auto slack = mech::load_until_slack(std::min(targets->left, targets->right));
  if (!slack) return std::unexpected(slack.error());
  reckoned.rows.push_back(row("Load on the rim that slackens a spoke",
                              {slack->in(newton), Dimension::kForce}, "good to 20 %"));
  return {};
}

Result<Reckoned> spoke_lengths(const Given& given) {
  const mech::WheelGeometry wheel = wheel_geometry(given);
  const auto spokes = mech::wheel_spokes(wheel);
  if (!spokes) return std::unexpected(spokes.error());
  Reckoned reckoned;
  for (const auto& step :
       {add_side("left", spokes->left, given, reckoned),
        add_side("right", spokes->right, given, reckoned), add_crossings(wheel, reckoned),
        add_tension(*spokes, given, reckoned)}) {
    if (!step) return std::unexpected(step.error());
  }
  return reckoned;
}

Aid spoke_length_aid() {
  Aid aid{.id = "spoke-length", .title = "Spoke length",
          .lead = "Both sides of a wheel with bent spokes: lengths, angles, tension to build to."};
  aid.inputs = wheel_geometry_fields();
  aid.inputs.push_back(plain_numbers("stock", "Lengths in the drawer", "",
                                     "millimetres, spaces between; may stay empty"));
  aid.inputs.push_back(amount("rim_limit", "The rim maker's greatest spoke tension",
                              Dimension::kForce, "", "may stay empty"));
  aid.inputs.push_back(plain_number("spread", "Allowed spread, per cent", "20"));
  aid.inputs.push_back(amount("tight_most", "Tighter side at the most", Dimension::kForce, "",
                              "mean; may stay empty: as tight as the limit allows"));
  aid.method = "Law of cosines in the wheel plane, Pythagoras along the axle, less half a hole. 1 mm "
               "in the rim diameter moves a spoke by about 0.5 mm. Tensions balance along the axle.";
  aid.source = "spoke-geometry, tension-balance, tension-spread";
  aid.caution = "The limits of the rim and the hub printed by their makers come first. Wear eye "
                "protection: a spoke that breaks flies.";
  aid.reckon = spoke_lengths;
  return aid;
}

Result<Reckoned> straight_pull(const Given& given) {
  const auto line = mech::straight_pull_length(
      {.axis_circle_radius = given.amount("axis_circle_radius", mm),
       .flange_offset = given.amount("flange_offset", mm),
       .rim_diameter = given.amount("rim_diameter", mm),
       .nipples_towards = given.amount("nipples_towards", mm),
       .seat_correction = given.amount("seat_correction", mm)});
  if (!line) return std::unexpected(line.error());
  return Reckoned{.rows = {length_row("Spoke", line->length, "head seat to end of the thread"),
                           row("Bracing angle",
                               {line->bracing.in(radian), Dimension::kAngle, "°", 2})}};
}

Aid straight_pull_aid() {
  return {.id = "straight-pull", .title = "Straight-pull spoke",
          .lead = "One side of a wheel whose spokes go straight into pockets.",
          .inputs = {millimetres("rim_diameter", "Effective rim diameter", "602"),
                     millimetres("axis_circle_radius", "Radius that the spoke's axis touches", "20",
                              "from the hub maker's drawing"),
                     millimetres("flange_offset", "Pockets from the middle", "35"),
                     millimetres("seat_correction", "Touching point to head seat", "0"),
                     millimetres("nipples_towards", "Nipples off the middle, towards this side", "0")},
          .method = "Tangent in the wheel plane, Pythagoras along the axle, plus the seat.",
          .source = "spoke-geometry",
          .caution = "",
          .reckon = straight_pull};
}

Result<Reckoned> tension_from_pitch(const Given& given) {
  const auto reading = mech::spoke_reading(
      {.spoke = {.length = given.amount("length", mm), .diameter = given.amount("diameter", mm)},
       .pitch = given.amount("pitch", hertz), .pitch_uncertainty = 1 * hertz});
  if (!reading) return std::unexpected(reading.error());
  const auto share = [](const char* name, Force part) {
    return row(name, {part.in(newton), Dimension::kForce}, "of that");
  };
  return Reckoned{
      .rows = {row("Tension", {reading->tension.in(newton), Dimension::kForce},
                   fmt::format("give or take {} N", rounded(reading->uncertainty.in(newton), 0))),
               share("from how the ends are held", reading->from_ends),
               share("from the length, to 1 mm", reading->from_length),
               share("from the pitch, to 1 Hz", reading->from_pitch)},
      .cautions = {"One reading of a tension meter per wheel makes the ends known."}};
}

Aid pitch_aid() {
  return {.id = "spoke-pitch", .title = "Spoke tension from pitch",
          .lead = "What a plucked spoke's pitch says of its tension.",
          .inputs = {amount("pitch", "Pitch", Dimension::kFrequency, "350 Hz"),
                     millimetres("length", "Length that sounds", "200",
                              "crossing to nipple; of a butted spoke the thin middle"),
                     millimetres("diameter", "Diameter there", "2")},
          .method = "Steel wire as a beam under tension whose ends are held somewhere between pinned and "
                    "fast. The string formula alone claims 17 to 36 % too much.",
          .source = "spoke-pitch",
          .caution = "The limits of the rim and the hub printed by their makers come first.",
          .reckon = tension_from_pitch};
}

}  // namespace

std::vector<Aid> wheel_aids() {
  return {spoke_length_aid(), straight_pull_aid(), pitch_aid()};
}

}  // namespace rollwright::aids
