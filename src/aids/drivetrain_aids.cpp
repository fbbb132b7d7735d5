#include <algorithm>

#include <fmt/format.h>

#include "aids/aids.hpp"
#include "base/text.hpp"
#include "mech/belt.hpp"
#include "mech/belt_gears.hpp"
#include "mech/chain.hpp"
#include "mech/gear_chart.hpp"
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

Table gear_table(const mech::GearChart& chart, bool hub) {
  Table table{.title = "Gears, lowest first", .rows = {}};
  table.columns = {"Gear", "Development", "Gear inches", "Gain", "Step", "Over the cadences", "mph", "Remark"};
  for (const mech::ChartedGear& gear : chart.gears) {
    const mech::GearFigures& own = gear.figures;
    table.rows.push_back(
        {gear_name(own.gear, hub), with_unit(own.development.in(mm), "m", 2),
         fmt::format("{:.1f}", own.equivalent.in(inch)), fmt::format("{:.2f}", own.gain),
         own.step_percent > 0 ? fmt::format("{:.1f} %", own.step_percent) : "–",
         fmt::format("{:.1f} to {:.1f} km/h", gear.from.in(km_per_hour), gear.to.in(km_per_hour)),
         fmt::format("{:.1f} to {:.1f}", gear.from.in(mile_per_hour), gear.to.in(mile_per_hour)),
         gear.repeats ? "as the one before" : gear.reaches_up ? "" : "does not reach the next"});
  }
  return table;
}

Scale gear_scale(const mech::GearChart& chart, bool hub) {
  Scale scale{.title = "Development", .unit = "m", .logarithmic = true, .marks = {}};
  for (const mech::ChartedGear& gear : chart.gears) {
    const mech::Gear& own = gear.figures.gear;
    scale.marks.push_back({gear.figures.development.in(metre),
                           hub ? rounded(own.hub_ratio, 2) : std::to_string(own.rear),
                           fmt::format("chainring {}", own.front)});
  }
  return scale;
}

/// What a derailleur has to take up, where there is more than one sprocket or chainring.
Result<void> add_capacity(const mech::GearSet& set, Reckoned& reckoned) {
  if (set.rears.size() < 2 && set.fronts.size() < 2) return {};
  const auto [front_least, front_most] = std::ranges::minmax(set.fronts);
  const auto [rear_least, rear_most] = std::ranges::minmax(set.rears);
  const auto capacity =
      mech::derailleur_capacity({front_most, front_least, rear_most, rear_least});
  if (!capacity) return std::unexpected(capacity.error());
  reckoned.rows.push_back({"Capacity", fmt::format("{} teeth", *capacity), "",
                           "that a derailleur has to take up"});
  return {};
}

/// "2.48 m", gear inches beside it, and the speeds that it holds.
Row end_row(const char* name, const mech::ChartedGear& gear, bool hub, const Given& given) {
  return {name, with_unit(gear.figures.development.in(mm), "m", 2),
          fmt::format("{:.1f} gear inches", gear.figures.equivalent.in(inch)),
          fmt::format("{}; {:.1f} to {:.1f} km/h at {} to {} turns a minute",
                      gear_name(gear.figures.gear, hub), gear.from.in(km_per_hour),
                      gear.to.in(km_per_hour), given.word("low_cadence"),
                      given.word("high_cadence"))};
}

Result<Reckoned> gears(const Given& given) {
  const mech::GearSet set{.fronts = given.counts("fronts"), .rears = given.counts("rears"),
                          .hub_ratios = given.numbers("hub_ratios")};
  const auto wheel = wheel_of(given);
  if (!wheel) return std::unexpected(wheel.error());
  const auto chart = mech::gear_chart({.set = set, .wheel = *wheel,
                                       .low_cadence = given.number("low_cadence"),
                                       .high_cadence = given.number("high_cadence")});
  if (!chart) return std::unexpected(chart.error());
  const bool hub = set.hub_ratios.size() > 1;
  Reckoned reckoned;
  reckoned.rows = {
      end_row("Lowest gear", chart->gears.front(), hub, given),
      end_row("Highest gear", chart->gears.back(), hub, given),
      {"Range", rounded(chart->range_percent, 0) + " %", "", "highest gear over the lowest"},
      {"Gears that differ", fmt::format("{} of {}", chart->different, chart->gears.size()), "",
       fmt::format("by more than 3 %; steps of {} % on average, {} % at most",
                   rounded(chart->mean_step_percent, 0), rounded(chart->largest_step_percent, 0))},
      row("Circumference", {wheel->circumference.in(mm), Dimension::kLength, "mm", 0},
          given.has("circumference") ? "measured" : "from the tyre's size, good to 1 %")};
  if (const auto ok = add_capacity(set, reckoned); !ok) return std::unexpected(ok.error());
  reckoned.tables = {gear_table(*chart, hub)};
  reckoned.scales = {gear_scale(*chart, hub)};
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
                     plain_number("low_cadence", "Turns of the crank per minute, from", "60"),
                     plain_number("high_cadence", "Turns of the crank per minute, to", "90")},
          .method = "Development is front over rear times hub ratio times circumference; gear inches "
                    "the ratio times the diameter; gain the way of the bike over that of the pedal.",
          .source = "gearing",
          .caution = "",
          .reckon = gears};
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

constexpr std::size_t kMostShown = 30;

Table fits_table(const mech::BeltGearsFound& found) {
  Table table{.title = "What fits, nearest to the wanted range first", .rows = {}};
  table.columns = {"Sprockets", "Belt", "New", "Worn", "Room left", "Lowest", "Highest", "At the hub"};
  for (const mech::BeltGears& one : found.fits) {
    if (table.rows.size() == kMostShown) break;
    table.rows.push_back({fmt::format("{} × {}", one.fit.front, one.fit.rear),
                          std::to_string(one.fit.belt_teeth),
                          fmt::format("{:.1f} mm", one.fit.run.centre_distance.in(mm)),
                          fmt::format("{:.1f} mm", one.worn_centre.in(mm)),
                          fmt::format("{:.1f} mm", one.worn_room.in(mm)),
                          fmt::format("{:.2f} m", one.lowest.in(metre)),
                          fmt::format("{:.2f} m", one.highest.in(metre)),
                          fmt::format("{:.0f} N·m", one.input.in(newton_metre))});
  }
  return table;
}

Table refused_table(const mech::BeltGearsFound& found) {
  Table table{.title = "What does not, and why", .columns = {"Sprockets, belt", "Why"}, .rows = {}};
  for (const mech::BeltRefused& one : found.refused) {
    if (table.rows.size() == kMostShown) break;
    table.rows.push_back({fmt::format("{} × {}, {}", one.front, one.rear, one.belt_teeth),
                          one.sentence});
  }
  return table;
}

Result<Reckoned> belt_choice(const Given& given) {
  const auto wheel = wheel_of(given);
  if (!wheel) return std::unexpected(wheel.error());
  const auto found = mech::belt_gears(
      {.belts = {.fronts = given.counts("fronts"), .rears = given.counts("rears"),
                 .belts = given.counts("belts"), .pitch = given.amount("pitch", mm),
                 .least_centre = given.amount("least_centre", mm),
                 .most_centre = given.amount("most_centre", mm),
                 .room_to_tighten = given.amount("room", mm)},
       .hub_ratios = given.numbers("hub_ratios"),
       .hub = {.least_primary = given.has("least_primary") ? given.number("least_primary") : 0,
               .most_input = given.has("most_input") ? given.amount("most_input", newton_metre)
                                                     : Torque{}},
       .crank_torque = given.amount("crank_torque", newton_metre), .wheel = *wheel,
       .lowest_wanted = given.amount("lowest", mm), .highest_wanted = given.amount("highest", mm)});
  if (!found) return std::unexpected(found.error());
  Reckoned reckoned{.rows = {{"Combinations that fit", std::to_string(found->fits.size()), "",
                              fmt::format("of {}", found->fits.size() + found->refused.size())}},
                    .tables = {fits_table(*found), refused_table(*found)}};
  if (found->fits.empty()) reckoned.tables.erase(reckoned.tables.begin());
  if (found->refused.size() > kMostShown || found->fits.size() > kMostShown) {
    reckoned.rows.push_back({"Shown of each", std::to_string(kMostShown), "", "at most"});
  }
  return reckoned;
}

Aid belt_choice_aid() {
  return {.id = "belt-choice", .title = "Belt that fits",
          .lead = "All sprockets and belts over a frame's chainstays, ranked by the wanted gears.",
          .inputs = {counts("fronts", "Front sprockets", "46 50 55 60", "teeth"),
                     counts("rears", "Rear sprockets", "20 22 24"),
                     counts("belts", "Belts", "111 113 115 118 120 122", "teeth"),
                     amount("pitch", "Tooth pitch", Dimension::kLength, "11 mm"),
                     amount("least_centre", "Shortest chainstay", Dimension::kLength, "430 mm"),
                     amount("most_centre", "Longest chainstay", Dimension::kLength, "445 mm"),
                     amount("room", "Room to tighten, new", Dimension::kLength, "3 mm"),
                     plain_numbers("hub_ratios", "Ratios of the hub gear",
                                   "0.527 0.644 0.748 0.851 1 1.223 1.419 1.615"),
                     plain_number("least_primary", "Hub's least front over rear", "",
                                  "may stay empty"),
                     amount("most_input", "Hub's greatest torque", Dimension::kTorque, "",
                            "at its sprocket; may stay empty"),
                     amount("crank_torque", "Greatest torque at the cranks", Dimension::kTorque,
                            "150 N·m", "motor included"),
                     text("tyre", "Tyre", "47-622", "as ISO 5775 writes it"),
                     amount("circumference", "Measured roll-out", Dimension::kLength, "",
                            "may stay empty"),
                     amount("crank", "Crank length", Dimension::kLength, "170 mm"),
                     amount("lowest", "Lowest development wanted", Dimension::kLength, "2.5 m"),
                     amount("highest", "Highest development wanted", Dimension::kLength, "8 m")},
          .method = "Exact centre distances, new and stretched by a thousandth; torque at the hub is "
                    "that at the cranks times rear over front.",
          .source = "belt-length, gearing",
          .caution = "The makers' tables of permitted combinations come first. Whether the frame opens "
                     "for a belt is another question.",
          .reckon = belt_choice};
}

}  // namespace

std::vector<Aid> drivetrain_aids() {
  return {gear_aid(), chain_aid(), belt_aid(), belt_choice_aid()};
}

}  // namespace rollwright::aids
