#include "build/drive_gears.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "build/aid_filling.hpp"

namespace rollwright::build {
namespace {

/// Every number that the part states in words, sorted; nothing when it does not state them. One that
/// is no number is asked about, and so are stated ends that are not among them.
std::optional<GearNumbers> all_stated(FactReader& facts, const std::string& slot,
                                      const std::string& attribute) {
  const trade::Part* part = part_at(facts.bike(), trade::SlotId(slot));
  const trade::Fact* fact = part == nullptr ? nullptr : trade::fact_of(*part, attribute);
  const auto* words =
      fact == nullptr ? nullptr : std::get_if<std::vector<std::string>>(&fact->value);
  if (words == nullptr || words->empty()) return std::nullopt;
  GearNumbers found{.numbers = {}, .origin = facts.named(slot)};
  for (const std::string& word : *words) {
    const auto number = to_number(word);
    if (!number) {
      facts.ask(fmt::format("{}: \"{}\" is no number", facts.named(slot), word));
      return std::nullopt;
    }
    found.numbers.push_back(*number);
  }
  std::ranges::sort(found.numbers);
  return found;
}

/// The list where it is stated and its ends are the stated ones; otherwise the ends.
std::optional<GearNumbers> list_or_ends(FactReader& facts, std::optional<GearNumbers> ends,
                                        const std::string& slot, const std::string& attribute) {
  if (!ends) return std::nullopt;
  auto list = all_stated(facts, slot, attribute);
  if (!list) return ends;
  if (list->numbers.front() != ends->numbers.front() ||
      list->numbers.back() != ends->numbers.back()) {
    facts.ask(facts.named(slot) + ": smallest or largest is not that of the whole list");
    return ends;
  }
  return list;
}

/// From two attributes of one part; equal ones are one number.
std::optional<GearNumbers> from_least_to_most(FactReader& facts, const std::string& slot,
                                              const std::string& least, const std::string& most) {
  const auto low = facts.number(slot, least);
  const auto high = facts.number(slot, most);
  if (!low || !high) return std::nullopt;
  GearNumbers found{.numbers = {*low}, .origin = facts.named(slot)};
  if (*high > *low) found.numbers.push_back(*high);
  return found;
}

}  // namespace

std::optional<GearNumbers> front_teeth(FactReader& facts) {
  if (!facts.number_if_known("chainring", "teeth_small")) {
    const auto teeth = facts.number("chainring", "teeth");
    if (!teeth) return std::nullopt;
    return GearNumbers{.numbers = {*teeth}, .origin = facts.named("chainring")};
  }
  auto found = from_least_to_most(facts, "chainring", "teeth_small", "teeth");
  if (found && facts.number_if_known("chainring", "rings").value_or(0) > 2) {
    found->between = facts.named("chainring") + ": the teeth of the rings between are not stated";
  }
  return found;
}

std::optional<GearNumbers> rear_teeth(FactReader& facts) {
  const trade::BuildTemplate* build = facts.bike().build;
  const bool one_cog = build != nullptr &&
                       std::ranges::count(build->required, trade::SlotId("rear_sprocket")) > 0;
  if (one_cog || facts.filled("rear_sprocket")) {
    const auto teeth = facts.number("rear_sprocket", "teeth");
    if (!teeth) return std::nullopt;
    return GearNumbers{.numbers = {*teeth}, .origin = facts.named("rear_sprocket")};
  }
  auto found = list_or_ends(facts, from_least_to_most(facts, "cassette", "cog_min", "cog_max"),
                            "cassette", "cogs");
  if (found && found->numbers.size() == 2 && facts.number_if_known("cassette", "speeds").value_or(3) > 2) {
    found->between = facts.named("cassette") + ": the teeth of the cogs between are not stated";
  }
  return found;
}

std::optional<GearNumbers> hub_ratios(FactReader& facts) {
  const std::string hub = hub_slot(facts, "rear");
  const auto drive = facts.word(hub, "rear_drive");
  if (!drive) return std::nullopt;
  if (*drive != "internal gears") {
    return GearNumbers{.numbers = {1}, .origin = facts.named(hub) + ": no gears in the hub"};
  }
  auto found = list_or_ends(facts, from_least_to_most(facts, hub, "gear_low", "gear_high"), hub,
                            "hub_ratios");
  if (found && facts.number_if_known(hub, "gears") == 0) {
    found->origin += ": any ratio between these two";
    return found;
  }
  if (found && found->numbers.size() == 2 && facts.number_if_known(hub, "gears").value_or(3) > 2) {
    found->between = facts.named(hub) + ": the ratios of the gears between are not stated";
  }
  return found;
}

}  // namespace rollwright::build
