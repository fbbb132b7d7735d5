#include <fmt/format.h>

#include "aids/aids.hpp"
#include "base/text.hpp"
#include "mech/tyre.hpp"

namespace rollwright::aids {

namespace {

Pressure printed(const Given& given, const std::string& key) {
  return given.has(key) ? given.amount(key, bar) : 0 * bar;
}

Result<Reckoned> pressures(const Given& given) {
  const auto size = mech::parse_tyre_size(given.word("tyre"));
  if (!size) {
    Error error = size.error();
    error.place.field = "tyre";
    return std::unexpected(std::move(error));
  }
  const auto range = mech::pressure_range(
      {.tyre_least = printed(given, "tyre_least"), .tyre_most = printed(given, "tyre_most"),
       .rim_most = printed(given, "rim_most"), .hookless_rim = given.word("rim") == "hookless",
       .tyre_for_hookless = given.word("tyre_for_hookless") == "yes"});
  if (!range) return std::unexpected(range.error());
  const Length width = given.has("real_width") ? given.amount("real_width", mm) : size->width;
  const double front = given.number("front_share") / 100;
  const Mass all = given.amount("mass", kg);
  Reckoned reckoned;
  for (const auto& [name, share] : {std::pair{"Front", front}, {"Rear", 1 - front}}) {
    const auto suggested = mech::suggested_pressure(share * all, width, *range);
    if (!suggested) return std::unexpected(suggested.error());
    reckoned.rows.push_back(
        row(fmt::format("{}, to try first", name),
            {suggested->pressure.in(bar), Dimension::kPressure},
            suggested->limited ? fmt::format("without the marks it would be {}",
                                             with_unit(suggested->before_limits.in(bar), "bar", 1))
                               : ""));
  }
  reckoned.rows.push_back(row("At most", {range->most.in(bar), Dimension::kPressure},
                              "set by the " + range->most_set_by));
  reckoned.rows.push_back(row("Diameter", {mech::tyre_diameter(*size).in(mm), Dimension::kLength,
                                           "mm", 0}));
  reckoned.rows.push_back(row("Circumference", {mech::tyre_circumference(*size).in(mm),
                                                Dimension::kLength, "mm", 0}, "good to 1 %"));
  return reckoned;
}

Aid pressure_aid() {
  return {.id = "tyre-pressure", .title = "Tyre pressure",
          .lead = "A first pressure to try for the load, inside what tyre and rim allow.",
          .inputs = {text("tyre", "Tyre", "37-622", "as ISO 5775 writes it"),
                     amount("real_width", "Width as mounted", Dimension::kLength, "",
                            "may stay empty"),
                     amount("mass", "Bike, rider and luggage", Dimension::kMass, "95 kg"),
                     plain_number("front_share", "On the front wheel, per cent", "45"),
                     amount("tyre_most", "Tyre, greatest printed", Dimension::kPressure, "5 bar"),
                     amount("tyre_least", "Tyre, least printed", Dimension::kPressure, "",
                            "may stay empty"),
                     amount("rim_most", "Rim, greatest printed", Dimension::kPressure, "",
                            "may stay empty"),
                     choice("rim", "Rim", {"hooked", "hookless"}),
                     choice("tyre_for_hookless", "Tyre released for hookless rims",
                            {"no", "yes"})},
          .method = "The pressure at which the tyre drops by 15 % of its height under the load; 10 % "
                    "either way between 20 and 37 mm, wider tyres are extrapolated.",
          .source = "tyre-drop, tyre-pressure, hookless",
          .caution = "Never above what tyre or rim print, and never above 5 bar on a hookless rim.",
          .reckon = pressures};
}

Result<Reckoned> clearance(const Given& given) {
  const auto room = mech::tyre_clearance({.opening = given.amount("opening", mm),
                                          .real_width = given.amount("real_width", mm),
                                          .least_room = given.amount("least_room", mm)});
  if (!room) return std::unexpected(room.error());
  Reckoned reckoned{
      .rows = {row("Room on each side", {room->each_side.in(mm), Dimension::kLength, "mm", 1},
                   room->holds ? "enough" : "not enough"),
               row("Widest tyre", {room->widest.in(mm), Dimension::kLength, "mm", 1})}};
  if (!room->holds) reckoned.cautions = {"This tyre does not leave the room that is wanted."};
  return reckoned;
}

Aid clearance_aid() {
  return {.id = "tyre-room", .title = "Room for a tyre",
          .lead = "Whether a tyre turns free between stays, blades or guards.",
          .inputs = {amount("opening", "Opening at the tyre", Dimension::kLength, "60 mm"),
                     amount("real_width", "Width of the tyre as mounted", Dimension::kLength,
                            "47 mm"),
                     amount("least_room", "Wanted on each side", Dimension::kLength, "6 mm")},
          .method = "Half of opening less width. Run-out, mud and flex are left aside.",
          .source = "tyre-clearance",
          .caution = "The frame maker's widest tyre comes first.",
          .reckon = clearance};
}

}  // namespace

std::vector<Aid> tyre_aids() { return {pressure_aid(), clearance_aid()}; }

}  // namespace rollwright::aids
