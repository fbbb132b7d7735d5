#include "build/wheel_asked.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/text.hpp"
#include "build/aid_filling.hpp"

namespace rollwright::build {
namespace {

/// Counts of hub and rim agree, and the spokes have heads that the geometry covers.
bool can_be_laced(FactReader& facts, const std::string& end) {
  const std::string hub = hub_slot(facts, end);
  const std::string rim = rim_slot(facts, end);
  const auto hub_holes = facts.number(hub, "spoke_count");
  const auto rim_holes = facts.number(rim, "spoke_count");
  const auto head = facts.word(hub, "spoke_head");
  if (!hub_holes || !rim_holes || !head) return false;
  if (*hub_holes != *rim_holes) {
    facts.ask(fmt::format("{} has {} holes, {} has {}: which of them is wrong?", facts.named(hub),
                          plain(*hub_holes), facts.named(rim), plain(*rim_holes)));
    return false;
  }
  if (*head != "J-bend") {
    facts.ask(fmt::format("{} takes straight-pull spokes: take their lengths from the hub maker's "
                          "drawing",
                          facts.named(hub)));
    return false;
  }
  return true;
}

std::optional<mech::Flange> flange_of(FactReader& facts, const std::string& end,
                                      const std::string& side) {
  const std::string hub = hub_slot(facts, end);
  const auto circle = facts.number(hub, "flange_diameter_" + side);
  const auto offset = facts.number(hub, "flange_offset_" + side);
  const auto holes = facts.number_if_known(hub, "spoke_count");
  if (!circle || !offset || !holes) return std::nullopt;
  return mech::Flange{.circle = *circle * mm, .offset = *offset * mm,
                      .holes = static_cast<int>(std::lround(*holes)) / 2};
}

std::string note_of(Length towards_left) {
  const double off = towards_left.in(mm);
  if (off == 0) return "";
  return fmt::format("; the rim's nipples stand {} mm to the {}", rounded(std::abs(off), 1),
                     off > 0 ? "left" : "right");
}

}  // namespace

std::optional<Length> nipples_towards_left(FactReader& facts, const std::string& end) {
  const auto offset_right = facts.number(rim_slot(facts, end), "rim_offset");
  if (!offset_right) return std::nullopt;
  const Length offset = *offset_right * mm;
  if (end == "rear" || *offset_right == 0) return -offset;
  const std::string hub = hub_slot(facts, end);
  const auto left = facts.number(hub, "flange_offset_left");
  const auto right = facts.number(hub, "flange_offset_right");
  if (!left || !right) return std::nullopt;
  if (*left == *right) return -offset;
  const Length away = std::max(offset, -offset);
  return *left < *right ? -away : away;
}

std::optional<double> asked_crosses(FactReader& facts, const std::string& end) {
  const std::string wheel = end + "_wheel";
  if (hub_slot(facts, end) != wheel) return facts.number(end + "_spokes", "crosses");
  facts.ask(fmt::format("{}: how many spokes of its side each one crosses is not known: count them",
                        facts.named(wheel)));
  return std::nullopt;
}

std::optional<WheelAsked> asked_wheel(FactReader& facts, const std::string& end) {
  const bool laced = can_be_laced(facts, end);
  auto left = flange_of(facts, end, "left");
  auto right = flange_of(facts, end, "right");
  const auto hole = facts.number(hub_slot(facts, end), "spoke_hole_diameter");
  const auto erd = facts.number(rim_slot(facts, end), "erd");
  const auto towards_left = nipples_towards_left(facts, end);
  const auto crosses = asked_crosses(facts, end);
  if (!laced || !left || !right || !hole || !erd || !towards_left || !crosses) return std::nullopt;
  left->crosses = *crosses;
  right->crosses = *crosses;
  return WheelAsked{.geometry = {.left = *left,
                                 .right = *right,
                                 .rim_diameter = *erd * mm,
                                 .nipples_towards_left = *towards_left,
                                 .spoke_hole = *hole * mm},
                    .note = note_of(*towards_left)};
}

std::optional<SpokesAsked> asked_spokes(FactReader& facts, const std::string& end) {
  const auto wheel = asked_wheel(facts, end);
  if (!wheel) return std::nullopt;
  const Result<mech::WheelSpokes> spokes = mech::wheel_spokes(wheel->geometry);
  if (!spokes) {
    facts.ask(fmt::format("{} wheel: {}", end, spokes.error().sentence));
    return std::nullopt;
  }
  return SpokesAsked{*spokes, *wheel};
}

std::optional<Force> usual_tight_tension(const FactReader& facts, const std::string& end) {
  const auto& readings = facts.trade().readings;
  const auto found = std::ranges::find(readings, "tension_tight_" + end, &trade::Reading::id);
  if (found == readings.end() || !found->least || !found->most) return std::nullopt;
  return (*found->least + *found->most) / 2 * newton;
}

std::optional<mech::TensionTargets> asked_tensions(FactReader& facts, const std::string& end) {
  const auto limit = facts.number(rim_slot(facts, end), "rim_tension_max");
  const auto asked = asked_spokes(facts, end);
  if (!limit || !asked) return std::nullopt;
  const auto targets =
      mech::tension_targets(asked->spokes, {.rim_limit = *limit * newton,
                                            .spread = kTensionSpread,
                                            .tight_most = usual_tight_tension(facts, end)});
  if (targets) return *targets;
  facts.ask(fmt::format("{} wheel: {}", end, targets.error().sentence));
  return std::nullopt;
}

std::string tension_words(const FactReader& facts, const std::string& end) {
  const std::string rim = rim_slot(facts, end);
  return fmt::format("the two sides balance over this hub; no spoke within {} % of its side's mean "
                     "passes the {} N printed on {}",
                     rounded(kTensionSpread * 100, 0),
                     plain(facts.number_if_known(rim, "rim_tension_max").value_or(0)),
                     facts.named(rim));
}

}  // namespace rollwright::build
