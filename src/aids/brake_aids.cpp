#include <algorithm>
#include <iterator>

#include <fmt/format.h>

#include "aids/aids.hpp"
#include "aids/brake_force_aids.hpp"
#include "aids/route_given.hpp"
#include "base/text.hpp"
#include "mech/rotor_heat.hpp"
#include "mech/stopping.hpp"

namespace rollwright::aids {

namespace {

std::string mps2(double deceleration) { return fmt::format("{:.2f} m/s²", deceleration); }

std::string sentence_of(mech::BrakingLimit limit) {
  switch (limit) {
    case mech::BrakingLimit::kGrip: return "the tyres slip beyond it";
    case mech::BrakingLimit::kTippingOver: return "the bike tips over the front wheel beyond it";
    case mech::BrakingLimit::kBrakeForce: return "the brakes give no more";
  }
  broken_promise("every limit has a sentence", __FILE__, __LINE__);
}

Result<Reckoned> stop(const Given& given) {
  const std::string& which = given.word("braked");
  mech::BrakingBike bike{.whole = given.amount("whole", kg),
                         .wheelbase = given.amount("wheelbase", mm),
                         .centre_behind_front = given.amount("behind_front", mm),
                         .centre_height = given.amount("height", mm),
                         .grip = given.number("grip"),
                         .braked = which == "both"    ? mech::Braked::kBoth
                                   : which == "front" ? mech::Braked::kFrontOnly
                                                      : mech::Braked::kRearOnly,
                         .slope = given.number("slope") / 100};
  if (given.has("brake_force")) bike.brake_force = given.amount("brake_force", newton);
  const auto hardest = mech::hardest_braking(bike);
  if (!hardest) return std::unexpected(hardest.error());
  const auto way = mech::stopping_distance(given.amount("speed", metre_per_second),
                                           given.number("reaction"), hardest->most_mps2);
  if (!way) return std::unexpected(way.error());
  const auto metres = [](const char* name, Length length, std::string note = {}) {
    return Row{name, with_unit(length.in(mm), "m", 1), rounded(length.in(inch) / 12, 0) + " ft",
               std::move(note)};
  };
  return Reckoned{
      .rows = {metres("Stopping distance", way->whole,
                      fmt::format("from {}; {} s from the thought to standing",
                                  given.word("speed"), rounded(way->seconds, 1))),
               metres("of it braking", way->braking), metres("of it reacting", way->reaction),
               {"Hardest braking", mps2(hardest->most_mps2), "", sentence_of(hardest->limit)},
               {"Until the tyres slip", mps2(hardest->by_grip_mps2), "", ""}}};
}

Aid stop_aid() {
  return {.id = "stopping", .title = "Stopping distance",
          .lead = "How far a bike runs on, and what ends its braking.",
          .inputs = {amount("speed", "Speed", Dimension::kSpeed, "25 km/h"),
                     plain_number("reaction", "Reaction, seconds", "1"),
                     amount("whole", "Bike, rider and luggage", Dimension::kMass, "110 kg"),
                     amount("wheelbase", "Wheelbase", Dimension::kLength, "1090 mm"),
                     amount("behind_front", "Whole mass behind the front axle", Dimension::kLength,
                            "640 mm"),
                     amount("height", "Whole mass over the ground", Dimension::kLength, "1050 mm"),
                     plain_number("grip", "Grip of the tyres", "0.7",
                                  "0.7 dry tarmac, 0.5 wet, 0.4 gravel"),
                     choice("braked", "Braked wheels", {"both", "front", "rear"}),
                     amount("brake_force", "Force of the brakes at the tyres", Dimension::kForce, "",
                            "measured, all together; may stay empty"),
                     plain_number("slope", "Slope, per cent", "0", "downhill is minus")},
          .method = "Forces and moments of a rigid bike. Grip is known to 20 % at best; dive, a rider "
                    "who moves back and unequal use of two brakes are left aside.",
          .source = "braking, tyre-grip",
          .caution = "A computed distance releases no brake: the standard's test and the maker's values "
                     "come first.",
          .reckon = stop};
}

std::string celsius(double degrees) {
  return fmt::format("{:.0f} °C", degrees);
}
std::string fahrenheit(double degrees) { return fmt::format("{:.0f} °F", degrees * 9 / 5 + 32); }

mech::Rotor rotor_of(const Given& given) {
  return {.mass = given.amount("rotor", kg), .area_m2 = given.number("area") / 1e4,
          .warn_at_c = given.number("warn_at")};
}
mech::DescendingBike descending(const Given& given) {
  return {.whole = given.amount("whole", kg), .drag_area_m2 = given.number("drag_area"),
          .share = given.number("share") / 100};
}

Row hottest_row(double degrees, std::string note = {}) {
  return {"Hottest", celsius(degrees), fahrenheit(degrees), std::move(note)};
}

void add_too_hot(const mech::Rotor& rotor, const mech::RotorWay& way, Reckoned& reckoned) {
  if (!way.too_hot) return;
  reckoned.cautions.push_back(fmt::format(
      "Over {} after {}: stop and let it cool, or share the braking better.",
      celsius(rotor.warn_at_c), with_unit(way.too_hot->way.in(mm), "m", 0)));
}

/// Least boiling points of brake fluids, fresh and with water drawn in.
/// Source: [brake-fluids]. Mineral oils follow no standard; their makers say.
struct BrakeFluid {
  std::string_view name;
  double fresh_c = 0;
  double wet_c = 0;
};
constexpr BrakeFluid kFluids[] = {{"DOT 4", 230, 155}, {"DOT 5.1", 260, 180}};
constexpr const char* kOtherFluid = "another or none";

void add_fluid(const Given& given, Reckoned& reckoned) {
  const auto fluid = std::ranges::find(kFluids, given.word("fluid"), &BrakeFluid::name);
  if (fluid == std::end(kFluids)) return;
  reckoned.rows.push_back({"Its fluid boils, fresh", celsius(fluid->fresh_c),
                           fahrenheit(fluid->fresh_c), "at the least; the fluid stays far cooler than "
                                                       "the rotor"});
  reckoned.rows.push_back({"and with water drawn in", celsius(fluid->wet_c),
                           fahrenheit(fluid->wet_c), "at the least"});
}

/// At most about a hundred moments; of those between, the hottest.
void add_heat_band(const mech::RotorWay& way, Reckoned& reckoned) {
  Band band{.title = "Temperature of the rotor", .along_unit = "km", .unit = "°C"};
  const std::size_t step = std::max<std::size_t>(1, way.moments.size() / 100);
  for (std::size_t i = 0; i < way.moments.size(); i += step) {
    const auto first = way.moments.begin() + static_cast<std::ptrdiff_t>(i);
    const auto last = first + static_cast<std::ptrdiff_t>(std::min(step, way.moments.size() - i));
    const auto hottest = std::max_element(first, last, [](const auto& a, const auto& b) {
      return a.temperature_c < b.temperature_c;
    });
    band.along.push_back(first->way.in(km));
    for (auto* line : {&band.low, &band.middle, &band.high}) {
      line->push_back(hottest->temperature_c);
    }
  }
  reckoned.bands.push_back(std::move(band));
}

Result<Reckoned> heat(const Given& given) {
  const mech::Rotor rotor = rotor_of(given);
  const mech::DescendingBike bike = descending(given);
  const mech::DescentPiece piece{.length = given.amount("length", mm),
                                 .slope = -given.number("slope") / 100,
                                 .speed = given.amount("speed", metre_per_second)};
  const double air = given.number("air");
  const auto power = mech::braking_power(bike, piece);
  if (!power) return std::unexpected(power.error());
  const auto way = mech::rotor_way(rotor, bike, {piece}, air);
  if (!way) return std::unexpected(way.error());
  const auto steady =
      mech::steady_rotor_c(rotor, bike.share * power->brakes, piece.speed, air);
  if (!steady) return std::unexpected(steady.error());
  Reckoned reckoned{.rows = {hottest_row(way->hottest_c),
                             {"If it went on for ever", celsius(*steady), fahrenheit(*steady), ""},
                             row("Brakes take, all wheels", {power->brakes.in(watt),
                                                             Dimension::kPower})}};
  add_too_hot(rotor, *way, reckoned);
  add_fluid(given, reckoned);
  add_heat_band(*way, reckoned);
  return reckoned;
}

std::vector<Input> rotor_fields() {
  return {amount("whole", "Bike, rider and luggage", Dimension::kMass, "110 kg"),
          plain_number("share", "Share of this rotor, per cent", "50"),
          amount("rotor", "Mass that is heated", Dimension::kMass, "150 g"),
          plain_number("area", "Area in the wind, cm²", "300", "both faces"),
          plain_number("drag_area", "Drag area, m²", "0.55"),
          plain_number("warn_at", "Limit, °C", "250", "the maker's, of rotor, pads or fluid"),
          plain_number("air", "Air, °C", "20"),
          choice("fluid", "Brake fluid", {kOtherFluid, "DOT 4", "DOT 5.1"},
                 "mineral oils follow no standard: their maker says")};
}

Aid heat_aid() {
  std::vector<Input> inputs = {
      plain_number("slope", "Slope downhill, per cent", "9"),
      amount("length", "Length of the descent", Dimension::kLength, "3 km"),
      amount("speed", "Speed held", Dimension::kSpeed, "20 km/h")};
  std::ranges::move(rotor_fields(), std::back_inserter(inputs));
  return {.id = "rotor-heat", .title = "Rotor heat",
          .lead = "How hot a brake rotor gets on a long descent.",
          .inputs = std::move(inputs),
          .method = "One lump of metal that the wind cools and that radiates. Cooling and share are "
                    "known to 30 % at best: take it as a warning.",
          .source = "rotor-heat, brake-fluids",
          .caution = "The brake maker's limits come first. A brake that fades is no brake: stop early.",
          .reckon = heat};
}

/// All at one speed: another one uphill would be braked down to at every crest.
Result<std::vector<mech::DescentPiece>> pieces_of(const mech::RideWay& way, const Given& given) {
  constexpr double kSteepest = 0.4;  // that rotor_way takes
  const Speed speed = given.amount("speed", metre_per_second);
  std::vector<mech::DescentPiece> pieces;
  for (const mech::RidePiece& piece : way.pieces) {
    const double slope = piece.rise.in(mm) / piece.way.in(mm);
    if (!(-kSteepest <= slope && slope <= kSteepest)) {
      return refuse(Code::kOutOfRange,
                    fmt::format("the way has a slope of {:.0f} %: the heights are wrong there",
                                100 * slope),
                    {.field = "route"});
    }
    pieces.push_back({.length = piece.way, .slope = slope, .speed = speed});
  }
  return pieces;
}

Result<Reckoned> route_heat(const Given& given) {
  Reckoned reckoned;
  const auto route = way_of(given, reckoned);
  if (!route) return std::unexpected(route.error());
  const auto pieces = pieces_of(*route, given);
  if (!pieces) return std::unexpected(pieces.error());
  const mech::Rotor rotor = rotor_of(given);
  const auto way = mech::rotor_way(rotor, descending(given), *pieces, given.number("air"));
  if (!way) return std::unexpected(way.error());
  const auto hottest = std::ranges::max_element(way->moments, {}, &mech::RotorMoment::temperature_c);
  reckoned.rows = {hottest_row(way->hottest_c,
                               fmt::format("{} along the way; the limit is taken as {}",
                                           with_unit(hottest->way.in(mm), "km", 1),
                                           celsius(rotor.warn_at_c)))};
  add_too_hot(rotor, *way, reckoned);
  add_fluid(given, reckoned);
  add_heat_band(*way, reckoned);
  return reckoned;
}

Aid route_heat_aid() {
  std::vector<Input> inputs = route_fields();
  inputs.push_back(amount("speed", "Speed held", Dimension::kSpeed, "20 km/h"));
  std::ranges::move(rotor_fields(), std::back_inserter(inputs));
  return {.id = "route-heat", .title = "Rotor heat on a route",
          .lead = "How hot a brake rotor gets along a recorded or planned way.",
          .inputs = std::move(inputs),
          .method = "As rotor heat, over every piece of the way: what the held speed leaves for "
                    "the brakes, and the wind that cools in between. Uphill a rider is slower and "
                    "the wind cools less than reckoned; single stops are left aside.",
          .source = "rotor-heat, brake-fluids, climb",
          .caution = "The brake maker's limits come first. A brake that fades is no brake: stop early.",
          .reckon = route_heat};
}

}  // namespace

std::vector<Aid> brake_aids() { return {stop_aid(), brake_force_aid(), mass_limits_aid(), heat_aid(), route_heat_aid()}; }

}  // namespace rollwright::aids
