#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/text.hpp"
#include "build/aid_filling.hpp"
#include "build/wheel_asked.hpp"
#include "mech/spoke_crossing.hpp"

// Wheels. A field of the wheel that is not known stands empty, so that nothing is reckoned over a
// preset that says nothing of this wheel.
namespace rollwright::build {
namespace {

constexpr const char* kNotKnown = "not known";

/// A value, or an empty field with what would have to be known for it.
void needed(AidFilling& filling, const std::string& key,
            const std::function<std::optional<Told>(FactReader&)>& work) {
  FactReader reader = filling.reader();
  const std::optional<Told> told = work(reader);
  if (told) return filling.set(key, told->typed, told->origin);
  for (const std::string& question : reader.questions()) filling.ask(key, question);
  filling.set(key, "", kNotKnown);
}

void needed_fact(AidFilling& filling, const std::string& key, const std::string& slot,
                 const std::string& attribute) {
  const trade::Part* part = part_at(filling.reader().bike(), trade::SlotId(slot));
  filling.fact(key, slot, attribute);
  if (part == nullptr || trade::fact_of(*part, attribute) == nullptr) {
    filling.set(key, "", kNotKnown);
  }
}

bool is_straight_pull(AidFilling& filling) {
  const FactReader facts = filling.reader();
  return facts.word_if_known(hub_slot(facts, filling.end()), "spoke_head") == "straight-pull";
}

bool has_wheel(AidFilling& filling) {
  const FactReader facts = filling.reader();
  const std::string end = filling.end();
  return facts.filled(hub_slot(facts, end)) || facts.filled(rim_slot(facts, end));
}

/// Whether the aid, which is for bent spokes, has nothing to say of this wheel; then it is said.
bool not_for_this_wheel(AidFilling& filling) {
  if (!has_wheel(filling)) {
    filling.not_here(fmt::format("no {} wheel is chosen yet", filling.end()));
    return true;
  }
  if (!is_straight_pull(filling)) return false;
  const FactReader facts = filling.reader();
  filling.not_here(facts.named(hub_slot(facts, filling.end())) + " takes straight-pull spokes");
  return true;
}

void fill_side(AidFilling& filling, const std::string& side) {
  const FactReader facts = filling.reader();
  const std::string end = filling.end();
  const std::string hub = hub_slot(facts, end);
  needed_fact(filling, "circle_" + side, hub, "flange_diameter_" + side);
  needed_fact(filling, "offset_" + side, hub, "flange_offset_" + side);
  needed(filling, "holes_" + side, [&](FactReader& reader) -> std::optional<Told> {
    const auto holes = reader.number(hub, "spoke_count");
    if (!holes) return std::nullopt;
    return Told{std::to_string(std::lround(*holes) / 2),
                "half of " + origin_of(reader, hub, "spoke_count")};
  });
  needed(filling, "crosses_" + side, [&](FactReader& reader) -> std::optional<Told> {
    const auto crosses = asked_crosses(reader, end);
    if (!crosses) return std::nullopt;
    return Told{plain(*crosses), origin_of(reader, end + "_spokes", "crosses")};
  });
}

/// What every aid about a laced wheel asks.
void fill_lacing(AidFilling& filling) {
  const FactReader facts = filling.reader();
  const std::string end = filling.end();
  const std::string rim = rim_slot(facts, end);
  needed_fact(filling, "rim_diameter", rim, "erd");
  needed(filling, "nipples_towards_left", [&](FactReader& reader) -> std::optional<Told> {
    const auto off = nipples_towards_left(reader, end);
    if (!off) return std::nullopt;
    return Told{rounded(off->in(mm), 2) + " mm", origin_of(reader, rim, "rim_offset")};
  });
  fill_side(filling, "left");
  fill_side(filling, "right");
}

/// Limits of the rim and the wish for the tighter side, so that targets are those of the sheet.
void fill_limits(AidFilling& filling) {
  const FactReader facts = filling.reader();
  const std::string end = filling.end();
  filling.fact("rim_limit", rim_slot(facts, end), "rim_tension_max");
  filling.set("spread", rounded(100 * kTensionSpread, 0), "what a hand-built wheel keeps");
  if (const auto usual = usual_tight_tension(facts, end)) {
    filling.set("tight_most", rounded(usual->in(newton), 0) + " N",
                "middle of the usual range for the tighter side");
  }
}

void spoke_length_fields(AidFilling& filling) {
  if (not_for_this_wheel(filling)) return;
  const FactReader facts = filling.reader();
  fill_lacing(filling);
  needed_fact(filling, "spoke_hole", hub_slot(facts, filling.end()), "spoke_hole_diameter");
  fill_limits(filling);
}

void straight_pull_fields(AidFilling& filling) {
  const FactReader facts = filling.reader();
  if (!has_wheel(filling) || !is_straight_pull(filling)) {
    return filling.not_here(fmt::format("the {} wheel has no straight-pull spokes", filling.end()));
  }
  const std::string hub = facts.named(hub_slot(facts, filling.end()));
  needed_fact(filling, "rim_diameter", rim_slot(facts, filling.end()), "erd");
  for (const char* key : {"axis_circle_radius", "flange_offset", "seat_correction"}) {
    filling.ask(key, hub + ": read it in the hub maker's drawing");
    filling.set(key, "", kNotKnown);
  }
}

/// The target of one side. What it misses is asked at the fields of the wheel, once.
void fill_tension(AidFilling& filling, bool left) {
  const char* key = left ? "tension_left" : "tension_right";
  FactReader reader = filling.reader();
  const auto targets = asked_tensions(reader, filling.end());
  if (targets) {
    const Force tension = left ? targets->left : targets->right;
    return filling.set(key, rounded(tension.in(newton), 0) + " N",
                       tension_words(reader, filling.end()));
  }
  const auto& missing = reader.questions();
  filling.ask(key, missing.size() == 1 ? missing.front()
                                       : "the tension to build to follows from the wheel's measures "
                                         "and the rim's limit, once they are known");
  filling.set(key, "", kNotKnown);
}

/// Most run-out that the shop's own reading of a finished wheel allows.
void fill_run_out(AidFilling& filling, const std::string& key, const std::string& reading) {
  const FactReader facts = filling.reader();
  const auto& readings = facts.trade().readings;
  const auto found = std::ranges::find(readings, reading + "_" + filling.end(), &trade::Reading::id);
  if (found == readings.end() || !found->most) return;
  filling.set(key, plain(*found->most) + " mm", "bench sheet: " + found->source);
}

/// How stiff a rim is stands in no list: the aid's own guess is used, and that is said.
void ask_rim(AidFilling& filling) {
  const FactReader facts = filling.reader();
  filling.ask("rim", facts.named(rim_slot(facts, filling.end())) +
                         ": its stiffness is not known and taken from a rim of its kind");
}

void truing_fields(AidFilling& filling) {
  if (not_for_this_wheel(filling)) return;
  const FactReader facts = filling.reader();
  const std::string end = filling.end();
  fill_lacing(filling);
  for (const bool left : {true, false}) fill_tension(filling, left);
  needed_fact(filling, "highest", rim_slot(facts, end), "rim_tension_max");
  filling.fact("spoke_middle", end + "_spokes", "spoke_diameter");
  fill_run_out(filling, "most_lateral", "lateral_runout");
  fill_run_out(filling, "most_radial", "radial_runout");
  ask_rim(filling);
}

/// Nipple to crossing on the tighter side, which is the one to tune by.
std::optional<Told> sounding_told(FactReader& facts, const std::string& end) {
  const auto asked = asked_spokes(facts, end);
  if (!asked) return std::nullopt;
  const mech::WheelGeometry& wheel = asked->wheel.geometry;
  const bool left = asked->spokes.left.lateral < asked->spokes.right.lateral;
  const mech::Flange& flange = left ? wheel.left : wheel.right;
  const Length towards_left = wheel.nipples_towards_left;
  const auto length = mech::length_to_crossing({.flange_circle = flange.circle,
                                                .flange_offset = flange.offset,
                                                .rim_diameter = wheel.rim_diameter,
                                                .nipples_towards = left ? towards_left : -towards_left,
                                                .spoke_hole = wheel.spoke_hole,
                                                .holes = flange.holes,
                                                .crosses = flange.crosses});
  if (!length) {
    facts.ask(fmt::format("{} wheel: {}", end, length.error().sentence));
    return std::nullopt;
  }
  return Told{rounded(length->in(mm), 1) + " mm",
              fmt::format("{} wheel, {} side: nipple to crossing", end, left ? "left" : "right")};
}

void pitch_fields(AidFilling& filling) {
  if (not_for_this_wheel(filling)) return;
  const std::string end = filling.end();
  needed(filling, "length", [&](FactReader& reader) { return sounding_told(reader, end); });
  needed_fact(filling, "diameter", end + "_spokes", "spoke_diameter");
}

void spoke_sound_fields(AidFilling& filling) {
  pitch_fields(filling);
  if (has_wheel(filling)) filling.ask("sound", "record one pluck of a spoke of this wheel");
}

/// Lengths of the other wheel, where that is laced here too.
void fill_other_wheel(AidFilling& filling) {
  const std::string other = filling.end() == "rear" ? "front" : "rear";
  FactReader reader = filling.reader();
  if (hub_slot(reader, other) == other + "_wheel") return;
  const auto asked = asked_spokes(reader, other);
  if (!asked) return;
  filling.set("other_lengths",
              fmt::format("{:.2f} {:.2f}", asked->spokes.left.length.in(mm),
                          asked->spokes.right.length.in(mm)),
              fmt::format("{} wheel of this order, left and right", other));
}

void wheel_card_fields(AidFilling& filling) {
  if (not_for_this_wheel(filling)) return;
  const FactReader facts = filling.reader();
  const std::string end = filling.end();
  spoke_length_fields(filling);
  filling.fact("spoke_middle", end + "_spokes", "spoke_diameter");
  filling.fact_if_known("nipple_angle", rim_slot(facts, end), "drilling_angle_max");
  needed(filling, "spokes_come", [&](FactReader& reader) -> std::optional<Told> {
    const auto cut = reader.flag(end + "_spokes", "cut_to_length");
    if (!cut) return std::nullopt;
    return Told{*cut ? "cut to length here" : "from the drawer",
                origin_of(reader, end + "_spokes", "cut_to_length")};
  });
  fill_other_wheel(filling);
  ask_rim(filling);
}

}  // namespace

AidFills wheel_aid_fields() {
  return {{"spoke-length", spoke_length_fields}, {"straight-pull", straight_pull_fields},
          {"spoke-pitch", pitch_fields},         {"spoke-sound", spoke_sound_fields},
          {"truing", truing_fields},             {"wheel-card", wheel_card_fields}};
}

}  // namespace rollwright::build
