#include <algorithm>

#include <fmt/format.h>

#include "aids/aids.hpp"
#include "base/text.hpp"
#include "mech/belt.hpp"
#include "mech/chain.hpp"
#include "mech/gearing.hpp"
#include "mech/tyre.hpp"

namespace rollwright::aids {

namespace {

std::string gear_name(const mech::Gear& gear, bool hub) {
  std::string name = fmt::format("{} × {}", gear.front, gear.rear);
  return hub ? fmt::format("{} · {}", name, rounded(gear.hub_ratio, 3)) : name;
}

Result<mech::DrivenWheel> wheel_of(const Given& given) {
  const auto tyre = mech::parse_tyre_size(given.word("tyre"));
  if (!tyre) {
    Error error = tyre.error();
    error.place.field = "tyre";
    return std::unexpected(std::move(error));
  }
  return mech::DrivenWheel{.diameter = mech::tyre_diameter(*tyre),
                           .circumference = given.has("circumference")
                                                ? given.amount("circumference", mm)
                                                : mech::tyre_circumference(*tyre),
                           .crank = given.amount("crank", mm)};
}

Table gear_table(const mech::GearList& list, const std::vector<double>& cadences, bool hub) {
  Table table{.title = "Gears, lowest first",
              .columns = {"Gear", "Development", "Gear inches", "Gain", "Step"}, .rows = {}};
  for (const double cadence : cadences) {
    table.columns.push_back(fmt::format("At {}/min", rounded(cadence, 0)));
  }
  for (const mech::GearFigures& gear : list.gears) {
    std::vector<std::string> cells = {
        gear_name(gear.gear, hub), with_unit(gear.development.in(mm), "m", 2),
        fmt::format("{:.1f}", gear.equivalent.in(inch)), fmt::format("{:.2f}", gear.gain),
        gear.step_percent > 0 ? fmt::format("{:.1f} %", gear.step_percent) : "–"};
    for (const double cadence : cadences) {
      const auto speed = mech::speed_at(gear.development, cadence);
      cells.push_back(speed ? fmt::format("{} km/h, {}", rounded(speed->in(km_per_hour), 1),
                                          with_unit(speed->in(metre_per_second), "mph", 1))
                            : "–");
    }
    table.rows.push_back(std::move(cells));
  }
  return table;
}

Scale gear_scale(const mech::GearList& list, bool hub) {
  Scale scale{.title = "Development", .unit = "m", .logarithmic = true, .marks = {}};
  for (const mech::GearFigures& gear : list.gears) {
    scale.marks.push_back({gear.development.in(metre),
                           hub ? rounded(gear.gear.hub_ratio, 2) : std::to_string(gear.gear.rear),
                           fmt::format("chainring {}", gear.gear.front)});
  }
  return scale;
}

Result<Reckoned> gear_chart(const Given& given) {
  const mech::GearSet set{.fronts = given.counts("fronts"), .rears = given.counts("rears"),
                          .hub_ratios = given.numbers("hub_ratios")};
  const auto wheel = wheel_of(given);
  if (!wheel) return std::unexpected(wheel.error());
  const auto list = mech::gear_list(set, *wheel);
  if (!list) return std::unexpected(list.error());
  const bool hub = set.hub_ratios.size() > 1;
  for (const double cadence : given.numbers("cadences")) {
    if (const auto ok = mech::speed_at(1 * metre, cadence); !ok) return std::unexpected(ok.error());
  }
  Reckoned reckoned;
  reckoned.rows = {
      {"Range", rounded(list->range_percent, 0) + " %", "", "highest gear over the lowest"},
      row("Circumference", {wheel->circumference.in(mm), Dimension::kLength, "mm", 0},
          given.has("circumference") ? "measured" : "from the tyre's size, good to 1 %")};
  if (set.rears.size() > 1 || set.fronts.size() > 1) {
    const auto [front_least, front_most] = std::ranges::minmax(set.fronts);
    const auto [rear_least, rear_most] = std::ranges::minmax(set.rears);
    const auto capacity = mech::derailleur_capacity({front_most, front_least, rear_most, rear_least});
    if (!capacity) return std::unexpected(capacity.error());
    reckoned.rows.push_back({"Capacity", fmt::format("{} teeth", *capacity), "",
                             "that a derailleur has to take up"});
  }
  reckoned.tables = {gear_table(*list, given.numbers("cadences"), hub)};
  reckoned.scales = {gear_scale(*list, hub)};
  return reckoned;
}

Aid gear_aid() {
  return {.id = "gears", .title = "Gear chart",
          .lead = "Every gear of a bike with derailleur, hub gear or both.",
          .inputs = {counts("fronts", "Chainrings", "46 30", "teeth, spaces between"),
                     counts("rears", "Sprockets", "11 13 15 17 19 21 24 28 32 36"),
                     plain_numbers("hub_ratios", "Ratios of the hub gear", "1",
                                   "wheel turns per sprocket turn; 1 without one"),
                     text("tyre", "Tyre", "37-622", "as ISO 5775 writes it"),
                     amount("circumference", "Measured roll-out", Dimension::kLength, "",
                            "with the rider on; may stay empty"),
                     amount("crank", "Crank length", Dimension::kLength, "170 mm"),
                     plain_numbers("cadences", "Turns of the crank per minute", "60 90")},
          .method = "Development is front over rear times hub ratio times circumference; gear inches "
                    "the ratio times the diameter; gain the way of the bike over that of the pedal.",
          .source = "gearing",
          .caution = "",
          .reckon = gear_chart};
}

Result<Reckoned> chain_length(const Given& given) {
  const mech::ChainDrive drive{given.count("front"), given.count("rear"),
                               given.amount("centre_distance", mm)};
  const auto straight = mech::chain_links(drive);
  if (!straight) return std::unexpected(straight.error());
  const auto derailleur = mech::derailleur_chain_links(drive);
  if (!derailleur) return std::unexpected(derailleur.error());
  return Reckoned{.rows = {{"Without a derailleur", fmt::format("{} links", straight->to_cut), "",
                            fmt::format("exactly {}", rounded(straight->exact, 2))},
                           {"With a derailleur", fmt::format("{} links", *derailleur), "",
                            "largest to largest; a rule of thumb"}},
                  .cautions = {"Lay the chain on before cutting it."}};
}

Aid chain_aid() {
  return {.id = "chain-length", .title = "Chain length",
          .lead = "Links of a half-inch chain, with and without a derailleur.",
          .inputs = {count("front", "Largest chainring, teeth", "44"),
                     count("rear", "Largest sprocket, teeth", "16"),
                     amount("centre_distance", "Crank axle to wheel axle", Dimension::kLength,
                            "440 mm", "with rear suspension the longest over its travel")},
          .method = "Straight runs between the pitch circles and whole pitches on the sprockets; the "
                    "derailleur rule is 2 C + F/4 + R/4 + 1 inches.",
          .source = "chain-length, chain-rule",
          .caution = "",
          .reckon = chain_length};
}

Result<Reckoned> belt_lie(const Given& given) {
  const mech::BeltDrive drive{given.count("front"), given.count("rear"),
                              given.amount("pitch", mm)};
  const auto run = mech::belt_run(drive, given.count("belt"));
  if (!run) return std::unexpected(run.error());
  Reckoned reckoned;
  reckoned.rows = {row("Centre distance", {run->centre_distance.in(mm), Dimension::kLength, "mm", 2}),
                   row("Free span", {run->span.in(mm), Dimension::kLength, "mm", 1}),
                   {"Teeth in mesh", rounded(run->teeth_in_mesh, 1), "", "on the smaller sprocket"},
                   row("One belt tooth more", {run->per_tooth.in(mm), Dimension::kLength, "mm", 2},
                       "sets the axles that much farther apart")};
  if (!given.has("sound")) return reckoned;
  const auto tension = mech::belt_tension({given.amount("mass", kg_per_metre), run->span},
                                          given.amount("sound", hertz));
  if (!tension) return std::unexpected(tension.error());
  reckoned.rows.push_back(row("Tension at that pitch", {tension->in(newton), Dimension::kForce},
                              "turn the cranks to four places and take the lowest"));
  return reckoned;
}

Aid belt_aid() {
  return {.id = "belt", .title = "Belt",
          .lead = "Where a toothed belt puts the wheel, and what its pitch says of its tension.",
          .inputs = {count("front", "Front sprocket, teeth", "55"),
                     count("rear", "Rear sprocket, teeth", "22"),
                     count("belt", "Belt, teeth", "118"),
                     amount("pitch", "Tooth pitch", Dimension::kLength, "11 mm"),
                     amount("sound", "Pitch of the plucked span", Dimension::kFrequency, "",
                            "may stay empty"),
                     amount("mass", "Mass of the belt", Dimension::kLineDensity, "0.07 kg/m",
                            "weigh the belt and divide by its length")},
          .method = "Exact length over two pitch circles; tension is 4 m s² f² over the free span.",
          .source = "belt-length, belt-tension",
          .caution = "The belt maker's tension for this drive comes first.",
          .reckon = belt_lie};
}

}  // namespace

std::vector<Aid> drivetrain_aids() { return {gear_aid(), chain_aid(), belt_aid()}; }

}  // namespace rollwright::aids
