#include "build/drive_gears.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "build/aid_filling.hpp"

namespace rollwright::build {
namespace {

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
  auto found = from_least_to_most(facts, "cassette", "cog_min", "cog_max");
  if (found && facts.number_if_known("cassette", "speeds").value_or(3) > 2) {
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
  auto found = from_least_to_most(facts, hub, "gear_low", "gear_high");
  if (found && facts.number_if_known(hub, "gears").value_or(3) > 2) {
    found->between = facts.named(hub) + ": the ratios of the gears between are not stated";
  }
  return found;
}

}  // namespace rollwright::build
