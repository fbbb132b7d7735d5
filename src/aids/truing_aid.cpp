#include <algorithm>
#include <cmath>
#include <numbers>

#include <fmt/format.h>

#include "aids/aids.hpp"
#include "base/text.hpp"
#include "mech/spoke_stretch.hpp"
#include "mech/truing.hpp"
#include "mech/wheel_lacing.hpp"

namespace rollwright::aids {

namespace {

/// Rims of published acoustic tests, described without their names.
struct KnownRim {
  const char* name;
  double bending_radial, bending_lateral, torsion;  // N m²
};
constexpr KnownRim kKnownRims[] = {
    {"double-wall, shallow", 111, 219, 26.3},
    {"double-wall, deep", 180, 206, 94},   // radial value estimated
    {"single-wall", 80, 158, 16.8},        // radial value estimated
};
constexpr double kRimSectionMegaNewton = 6.9;
constexpr double kSteelGigaPascal = 200;

Result<mech::TruingWheel> wheel_on_stand(const Given& given) {
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
  const KnownRim& known = *std::ranges::find_if(
      kKnownRims, [&](const KnownRim& rim) { return given.word("rim") == rim.name; });
  return mech::TruingWheel::of({.radius = 0.5 * given.amount("rim_diameter", mm),
                                .bending_radial = known.bending_radial,
                                .bending_lateral = known.bending_lateral,
                                .torsion = known.torsion,
                                .rigidity = kRimSectionMegaNewton * 1e6 * newton},
                               *spokes);
}

Error wants(const char* field, std::string sentence) {
  return {Code::kBadInput, std::move(sentence), {.field = field}};
}

/// Readings at even places, the first at the first spoke.
Result<std::vector<mech::RunOutReading>> run_out(const Given& given) {
  std::vector<mech::RunOutReading> readings;
  const std::vector<double>& lateral = given.numbers("lateral");
  const std::vector<double>& radial = given.numbers("radial");
  if (radial.size() != lateral.size()) {
    return std::unexpected(wants("radial", fmt::format("{} readings here and {} sideways: give as "
                                                       "many, at the same places", radial.size(),
                                                       lateral.size())));
  }
  for (std::size_t i = 0; i < lateral.size(); ++i) {
    const double share = static_cast<double>(i) / static_cast<double>(lateral.size());
    readings.push_back({.at = 2 * std::numbers::pi * share * radian, .lateral = lateral[i] * mm,
                        .radial = radial[i] * mm});
  }
  return readings;
}

/// A wheel of which no spoke was read is taken to have the tensions it is built to, give or take.
constexpr double kUnreadSpread = 0.15;

/// In the wheel's order; 0 for a spoke that was not read.
Result<std::vector<mech::TensionReading>> tensions(const Given& given,
                                                   const std::vector<mech::WheelSpoke>& spokes,
                                                   bool is_first_pass) {
  std::vector<mech::TensionReading> readings;
  if (!given.has("tensions")) {
    if (!is_first_pass) return readings;
    for (std::size_t i = 0; i < spokes.size(); ++i) {
      readings.push_back({.spoke = static_cast<int>(i), .tension = spokes[i].tension,
                          .uncertainty = kUnreadSpread * spokes[i].tension});
    }
    return readings;
  }
  const std::vector<double>& read = given.numbers("tensions");
  if (read.size() != spokes.size()) {
    return std::unexpected(wants("tensions", fmt::format("{} readings for {} spokes: give one for "
                                                         "each, 0 for one that was not read",
                                                         read.size(), spokes.size())));
  }
  for (std::size_t i = 0; i < read.size(); ++i) {
    if (read[i] == 0) continue;
    readings.push_back({.spoke = static_cast<int>(i), .tension = read[i] * newton,
                        .uncertainty = std::max(1.0, read[i] * given.number("meter") / 100) *
                                       newton});
  }
  return readings;
}

/// The pieces of one earlier pass: readings, then the turns that were made.
struct PassPiece {
  const char* name;
  const char* field;
};
constexpr PassPiece kPieces[] = {{"lateral", "lateral"}, {"radial", "radial"},
                                 {"tensions", "tensions"}, {"dish", "dish"}};

/// "lateral 0.4 0.2; radial 0.1 0.1; turns 3:-1 15:+1 | lateral …", spokes counted from 1.
std::string written(const Given& given, const std::vector<mech::SpokeTurn>& turns) {
  std::string text = given.has("earlier") ? given.word("earlier") + " | " : "";
  for (const PassPiece& piece : kPieces) {
    if (given.has(piece.field)) text += fmt::format("{} {}; ", piece.name, given.word(piece.field));
  }
  text += "turns";
  for (const mech::SpokeTurn& turn : turns) {
    text += fmt::format(" {}:{:+}", turn.spoke + 1, turn.quarters);
  }
  return text;
}

Result<std::vector<mech::SpokeTurn>> turns_in(std::string_view text) {
  std::vector<mech::SpokeTurn> turns;
  for (const std::string& piece : split(text, ' ')) {
    if (piece.empty()) continue;
    const std::size_t colon = piece.find(':');
    const auto spoke = to_whole(piece.substr(0, colon));
    std::string count = colon == std::string::npos ? "" : piece.substr(colon + 1);
    if (count.starts_with('+')) count.erase(0, 1);
    const auto quarters = to_whole(count);
    if (!spoke || !quarters || std::abs(*spoke) > 1000 || std::abs(*quarters) > 1000) {
      return std::unexpected(wants("earlier", "turns are written as spoke:quarters, as in 3:-1"));
    }
    turns.push_back({static_cast<int>(*spoke) - 1, static_cast<int>(*quarters)});
  }
  return turns;
}

/// One earlier pass as typed fields, and its turns.
struct EarlierPass {
  Typed fields;
  std::vector<mech::SpokeTurn> turns;
};
Result<EarlierPass> earlier_pass(std::string_view text) {
  EarlierPass pass;
  for (const std::string& piece : split(text, ';')) {
    const std::size_t space = std::min(piece.find(' '), piece.size());
    const std::string name = piece.substr(0, space);
    const std::string rest(trim(piece.substr(space)));
    if (name == "turns") {
      auto turns = turns_in(rest);
      if (!turns) return std::unexpected(turns.error());
      pass.turns = std::move(*turns);
    } else if (std::ranges::any_of(kPieces, [&](const PassPiece& p) { return name == p.name; })) {
      pass.fields[name] = rest;
    } else {
      return std::unexpected(wants("earlier", "a pass is written as lateral, radial, tensions, dish "
                                              "and turns with a ; between them"));
    }
  }
  return pass;
}

std::string quarters(int count) {
  if (count == 0) return "–";
  return fmt::format("{} {} {}", std::abs(count) == 1 ? "1 quarter" : fmt::format("{} quarters", std::abs(count)),
                     count > 0 ? "tighter" : "looser", count > 0 ? "↻" : "↺");
}

Table turns_table(const mech::TruingWheel& wheel, const mech::TruingAdvice& advice) {
  Table table{.title = "Spokes, from the first place on", .rows = {}};
  table.columns = {"Spoke", "Turn", "Tension now", "Expected after"};
  for (std::size_t i = 0; i < wheel.spokes().size(); ++i) {
    int turn = 0;
    for (const mech::SpokeTurn& one : advice.turns) {
      if (one.spoke == static_cast<int>(i)) turn = one.quarters;
    }
    const char* side = wheel.spokes()[i].end == mech::WheelEnd::kLeft ? "left" : "right";
    const auto shown = [&](const mech::TruingState& state) {
      return fmt::format("{:.0f} ± {:.0f} N", state.tensions[i].in(newton),
                         state.uncertainties[i].in(newton));
    };
    table.rows.push_back({fmt::format("{} {}", i + 1, side), quarters(turn), shown(advice.now),
                          shown(advice.after)});
  }
  return table;
}

const char* sentence_of(mech::TruingVerdict verdict) {
  switch (verdict) {
    case mech::TruingVerdict::kInside: return "leave it alone";
    case mech::TruingVerdict::kTurn: return "expected to bring it inside; the odds stand below";
    case mech::TruingVerdict::kApproach: return "nearer; one pass is not enough";
    case mech::TruingVerdict::kRimBent: return "the rim is bent";
  }
  broken_promise("every verdict has a sentence", __FILE__, __LINE__);
}

void add_state(const std::string& when, const mech::TruingState& state, Reckoned& reckoned) {
  const auto mm_row = [&](const char* name, Length length) {
    reckoned.rows.push_back(row(fmt::format("{}, {}", name, when),
                                {length.in(mm), Dimension::kLength, "mm", 2}));
  };
  mm_row("Sideways run-out", state.lateral);
  mm_row("Up and down", state.radial);
  reckoned.rows.push_back({fmt::format("Furthest spoke from its side's mean, {}", when),
                           fmt::format("{:.0f} %", 100 * state.spread), "", ""});
}

Result<mech::TruingPass> pass_of(const Given& given, const std::vector<mech::WheelSpoke>& spokes,
                                 bool is_first) {
  const auto places = run_out(given);
  if (!places) return std::unexpected(places.error());
  const auto read = tensions(given, spokes, is_first);
  if (!read) return std::unexpected(read.error());
  mech::TruingPass pass{.run_out = *places, .tensions = *read};
  if (given.has("dish")) pass.dish = given.amount("dish", mm);
  return pass;
}

Aid truing_aid();

/// Earlier passes first, today's readings last.
Result<std::vector<mech::TruingPass>> passes_of(const Given& given,
                                                const std::vector<mech::WheelSpoke>& spokes) {
  std::vector<mech::TruingPass> passes;
  const std::string earlier = given.has("earlier") ? given.word("earlier") : "";
  for (const std::string& text : split(earlier, '|')) {
    auto typed = earlier_pass(text);
    if (!typed) return std::unexpected(typed.error());
    typed->fields["meter"] = given.word("meter");
    const auto own = Given::read(truing_aid(), typed->fields);
    auto pass = own ? pass_of(*own, spokes, passes.empty()) : std::unexpected(own.error());
    if (!pass) {
      Error error = pass.error();
      error.place.field = "earlier";
      return std::unexpected(std::move(error));
    }
    pass->turns = std::move(typed->turns);
    passes.push_back(std::move(*pass));
  }
  auto today = pass_of(given, spokes, passes.empty());
  if (!today) return std::unexpected(today.error());
  passes.push_back(std::move(*today));
  return passes;
}

Result<Reckoned> true_wheel(const Given& given) {
  const auto wheel = wheel_on_stand(given);
  if (!wheel) return std::unexpected(wheel.error());
  const auto passes = passes_of(given, wheel->spokes());
  if (!passes) return std::unexpected(passes.error());
  const auto advice = mech::truing_advice(
      *wheel, {.passes = *passes},
      {.lateral = given.amount("most_lateral", mm), .radial = given.amount("most_radial", mm),
       .left = given.amount("tension_left", newton), .right = given.amount("tension_right", newton),
       .highest = given.amount("highest", newton)});
  if (!advice) return std::unexpected(advice.error());
  int all = 0;
  for (const mech::SpokeTurn& turn : advice->turns) all += std::abs(turn.quarters);
  Reckoned reckoned{.rows = {{"Quarter turns", std::to_string(all), "",
                              sentence_of(advice->verdict)},
                             {"Run-out and dish inside after them",
                              fmt::format("{:.0f} in 100", 100 * advice->after.true_enough), "",
                              "as far as the readings tell; read again after turning"},
                             {"Tensions inside too",
                              fmt::format("{:.0f} in 100", 100 * advice->after.inside), "",
                              "rises with every spoke that is read"}}};
  add_state("now", advice->now, reckoned);
  add_state("expected", advice->after, reckoned);
  reckoned.tables.push_back(turns_table(*wheel, *advice));
  if (!given.has("tensions") && !given.has("earlier")) {
    reckoned.cautions.push_back(
        "No tension was read: the spokes are taken to stand at the tensions to build to, 15 % either "
        "way. Read a few before anything is tightened.");
  }
  if (!advice->read_next.empty()) {
    std::vector<std::string> next;
    for (const int spoke : advice->read_next) next.push_back(std::to_string(spoke + 1));
    if (next.size() > 6) next.resize(6);
    reckoned.rows.push_back({"Worth reading next", "spoke " + listed(next), "", ""});
  }
  if (all > 0) {
    reckoned.going_on = GoingOn{.label = "These turns are made",
                                .fields = {{"earlier", written(given, advice->turns)},
                                           {"lateral", ""}, {"radial", ""}, {"tensions", ""}}};
  }
  if (advice->bent) {
    reckoned.cautions.push_back(fmt::format(
        "{:.1f} mm stay at {:.0f}° from the first place however the spokes are turned: the rim "
        "itself is bent there.", advice->bent->size.in(mm), advice->bent->at.in(degree)));
  }
  return reckoned;
}

Aid truing_aid() {
  Aid aid{.id = "truing", .title = "Truing a wheel",
          .lead = "From run-out and tensions: the fewest quarter turns that bring it inside."};
  aid.inputs = {plain_numbers("lateral", "Sideways readings, mm",
                              "0.4 0.5 0.5 0.4 0.2 0 -0.2 -0.3 -0.3 -0.2 -0.1 0 0 0 0 0.1",
                              "evenly around, the first at the first spoke; towards the left is plus"),
                plain_numbers("radial", "Up-and-down readings, mm",
                              "0.1 0.1 0.1 0 0 0 0 -0.1 -0.1 0 0 0 0 0 0.1 0.1",
                              "at the same places; towards the axle is plus"),
                plain_numbers("tensions", "Tensions, N", "",
                              "in order around the rim, left first, 0 for not read; may stay empty"),
                plain_number("meter", "Meter's uncertainty, per cent", "5"),
                amount("dish", "Rim off the middle, to the left", Dimension::kLength, "",
                       "may stay empty: then it is only kept from moving"),
                text("earlier", "Earlier passes", "",
                     "as the last answer wrote them; empty for the first pass"),
                millimetres("most_lateral", "Allowed sideways", "0.5", "greatest less least"),
                millimetres("most_radial", "Allowed up and down", "0.5")};
  for (const char* name : {"left", "right"}) {
    const std::string side = name;
    aid.inputs.push_back(amount("tension_" + side, "Tension to build to, " + side,
                                Dimension::kForce, side == "left" ? "540 N" : "1100 N"));
    aid.inputs.push_back(millimetres("circle_" + side, "Circle of spoke holes, " + side, "45"));
    aid.inputs.push_back(millimetres("offset_" + side, "Flange from the middle, " + side,
                                  side == "left" ? "37" : "18"));
    aid.inputs.push_back(count("holes_" + side, "Holes, " + side, "16"));
    aid.inputs.push_back(plain_number("crosses_" + side, "Crosses, " + side, "3"));
  }
  aid.inputs.push_back(amount("highest", "No spoke above", Dimension::kForce, "1300 N",
                              "the strictest of the rim's and the spokes' limits"));
  aid.inputs.push_back(millimetres("rim_diameter", "Effective rim diameter", "602"));
  aid.inputs.push_back(millimetres("nipples_towards_left", "Nipples off the middle, to the left", "0"));
  aid.inputs.push_back(millimetres("spoke_middle", "Spoke diameter, middle", "1.8"));
  aid.inputs.push_back(choice("rim", "Rim", {kKnownRims[0].name, kKnownRims[1].name,
                                             kKnownRims[2].name},
                              "stiffness as in published tests; up and down estimated for the last two"));
  aid.method = "The wheel as an elastic ring on its spokes; its state is estimated from the readings "
               "with their uncertainty, then whole quarter turns are searched for. A real wheel may be "
               "a third softer sideways: read again and go on.";
  aid.source = "truing, wheel-thesis";
  aid.caution = "The limits of the rim and the hub printed by their makers come first. Wear eye "
                "protection, and turn back a little after each turn: spokes wind up.";
  aid.reckon = true_wheel;
  return aid;
}

}  // namespace

std::vector<Aid> truing_aids() { return {truing_aid()}; }

}  // namespace rollwright::aids
