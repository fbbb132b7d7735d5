#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "build/aid_filling.hpp"
#include "build/drive_gears.hpp"
#include "mech/belt.hpp"
#include "mech/tyre.hpp"

// Gears, chain and belt.
namespace rollwright::build {
namespace {

using Found = std::optional<GearNumbers>;

std::string spaced(const std::vector<double>& numbers) {
  std::vector<std::string> words;
  for (const double number : numbers) words.push_back(plain(number));
  return join(words, " ");
}

/// All numbers that are stated, with a question for those between.
void fill_numbers(AidFilling& filling, const std::string& key, Found (*find)(FactReader&)) {
  std::string between;
  filling.computed(key, [&](FactReader& facts) -> std::optional<Told> {
    const Found found = find(facts);
    if (!found) return std::nullopt;
    between = found->between;
    return Told{spaced(found->numbers),
                found->origin + (between.empty() ? "" : ": smallest and largest")};
  });
  if (!between.empty()) filling.ask(key, between);
}

void fill_number(AidFilling& filling, const std::string& key, Found (*find)(FactReader&),
                 bool largest) {
  filling.computed(key, [&](FactReader& facts) -> std::optional<Told> {
    const Found found = find(facts);
    if (!found) return std::nullopt;
    return Told{plain(largest ? found->numbers.back() : found->numbers.front()), found->origin};
  });
}

void fill_wheel(AidFilling& filling) {
  filling.computed("tyre", [](FactReader& facts) { return tyre_size(facts, "rear"); });
  filling.fact("crank", "crankset", "crank_length");
}

void gears(AidFilling& filling) {
  fill_numbers(filling, "fronts", front_teeth);
  fill_numbers(filling, "rears", rear_teeth);
  fill_numbers(filling, "hub_ratios", hub_ratios);
  fill_wheel(filling);
}

void chain_length(AidFilling& filling) {
  if (filling.reader().filled("belt")) return filling.not_here("this bike is driven by a belt");
  fill_number(filling, "front", front_teeth, true);
  fill_number(filling, "rear", rear_teeth, true);
  filling.fact("centre_distance", "frame", "chainstay");
}

bool no_belt(AidFilling& filling) {
  const BikeFacts& bike = filling.reader().bike();
  const trade::SlotId belt("belt");
  if (bike.parts.contains(belt)) return false;
  const bool may = bike.build == nullptr || std::ranges::count(bike.build->required, belt) > 0 ||
                   std::ranges::count(bike.build->optional, belt) > 0;
  if (!may) filling.not_here("this bike is driven by a chain");
  return !may;
}

void belt(AidFilling& filling) {
  if (no_belt(filling)) return;
  filling.fact("front", "chainring", "teeth");
  filling.fact("rear", "rear_sprocket", "teeth");
  filling.fact("belt", "belt", "belt_teeth");
  filling.fact("pitch", "belt", "pitch");
  filling.computed("mass", [](FactReader& facts) -> std::optional<Told> {
    const auto mass = facts.number("belt", "mass");
    const auto teeth = facts.number("belt", "belt_teeth");
    const auto pitch = facts.number("belt", "pitch");
    if (!mass || !teeth || !pitch) return std::nullopt;
    return Told{rounded(*mass / (*teeth * *pitch / 1000), 4) + " kg/m",
                facts.named("belt") + ": mass over its length"};
  });
}

/// A rider's whole weight on the level pedal and the motor's most, together.
std::optional<Told> most_crank_torque(FactReader& facts) {
  const auto rider = facts.number("rider", "rider_mass");
  const auto crank = facts.number("crankset", "crank_length");
  const auto motor = facts.filled("motor") ? facts.number("motor", "motor_torque")
                                           : std::optional(0.0);
  if (!rider || !crank || !motor) return std::nullopt;
  constexpr double kGravity = 9.80665;
  return Told{rounded(*rider * kGravity * *crank / 1000 + *motor, 0) + " N·m",
              fmt::format("the rider's whole weight on the level pedal{}",
                          *motor > 0 ? fmt::format(" and {} N·m of the motor", plain(*motor)) : "")};
}

void belt_choice(AidFilling& filling) {
  if (no_belt(filling)) return;
  filling.fact("fronts", "chainring", "teeth");
  filling.fact("rears", "rear_sprocket", "teeth");
  filling.fact("belts", "belt", "belt_teeth");
  filling.fact("pitch", "belt", "pitch");
  filling.fact("least_centre", "frame", "chainstay_min");
  filling.fact("most_centre", "frame", "chainstay_max");
  fill_numbers(filling, "hub_ratios", hub_ratios);
  const std::string hub = hub_slot(filling.reader(), "rear");
  filling.fact_if_known("least_primary", hub, "primary_ratio_min");
  filling.fact_if_known("most_input", hub, "input_torque_max");
  filling.computed("crank_torque", most_crank_torque);
  fill_wheel(filling);
}

std::optional<Told> free_span(FactReader& facts) {
  const auto front = facts.number("chainring", "teeth");
  const auto rear = facts.number("rear_sprocket", "teeth");
  const auto belt_teeth = facts.number("belt", "belt_teeth");
  const auto pitch = facts.number("belt", "pitch");
  if (!front || !rear || !belt_teeth || !pitch) return std::nullopt;
  const auto whole = [](double number) { return static_cast<int>(number); };
  const auto run = mech::belt_run({whole(*front), whole(*rear), *pitch * mm}, whole(*belt_teeth));
  if (!run) {
    facts.ask(facts.named("belt") + ": " + run.error().sentence);
    return std::nullopt;
  }
  return Told{rounded(run->span.in(mm), 1) + " mm",
              fmt::format("{} over {} and {} teeth", facts.named("belt"), plain(*front),
                          plain(*rear))};
}

void belt_sound(AidFilling& filling) {
  if (no_belt(filling)) return;
  filling.ask("sound", "the recording of a pluck is made at the bench");
  filling.computed("span", free_span);
  filling.fact("weighed", "belt", "mass");
  filling.fact("teeth", "belt", "belt_teeth");
  filling.fact("pitch", "belt", "pitch");
}

}  // namespace

AidFills drive_aid_fields() {
  return {{"gears", gears},
          {"chain-length", chain_length},
          {"belt", belt},
          {"belt-choice", belt_choice},
          {"belt-sound", belt_sound}};
}

}  // namespace rollwright::build
