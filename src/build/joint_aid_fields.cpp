#include <algorithm>
#include <set>

#include <fmt/format.h>

#include "base/text.hpp"
#include "build/aid_filling.hpp"
#include "build/traits.hpp"

// Tightening torques: the end of the aid is one of the bike's joints.
namespace rollwright::build {
namespace {

/// "faceplate bolts": what the aid calls the joint of a reading.
std::string joint_of(const trade::Reading& reading) {
  std::string joint = reading.id;
  std::ranges::replace(joint, '_', ' ');
  return joint;
}

bool has_usual_range(const trade::Reading& reading) { return reading.least && reading.most; }

/// Torques that are set on this bike.
std::vector<const trade::Reading*> torques_of(const FactReader& facts) {
  const BikeTraits traits = traits_of(facts.trade(), facts.bike());
  std::set<std::string> operations;
  for (const trade::Operation& operation : facts.trade().operations) {
    if (applies(operation.when, traits.holding)) operations.insert(operation.id);
  }
  std::vector<const trade::Reading*> torques;
  for (const trade::Reading& reading : facts.trade().readings) {
    const bool done = std::ranges::any_of(
        reading.operations, [&](const std::string& id) { return operations.contains(id); });
    if (reading.dimension == Dimension::kTorque && done && applies(reading.when, traits.holding)) {
      torques.push_back(&reading);
    }
  }
  return torques;
}

/// The smallest torque that the joint's parts print; asks for prints that nobody has read.
std::optional<Told> printed(FactReader& facts, const trade::Reading& reading) {
  std::optional<Told> told;
  double least = 0;
  for (const auto* prints : {&reading.part_targets, &reading.part_limits_most}) {
    for (const trade::Operand& print : *prints) {
      if (!facts.can_state(print.slot.text, print.attribute)) continue;
      const auto torque = facts.number(print.slot.text, print.attribute);
      if (!torque || (told && least <= *torque)) continue;
      least = *torque;
      told = Told{plain(*torque) + " N·m", origin_of(facts, print.slot.text, print.attribute)};
    }
  }
  return told;
}

/// A part of the joint that says which screws it is made for.
void fill_thread(AidFilling& filling, const trade::Reading& reading) {
  const FactReader facts = filling.reader();
  for (const char* slot : {"rack", "mudguards"}) {
    const bool its_own = reading.id.starts_with(std::string(slot).substr(0, 4));
    if (its_own && facts.word_if_known(slot, "boss_thread")) {
      return filling.fact("thread", slot, "boss_thread");
    }
  }
  filling.ask("thread", "measure the thread of this joint and read the mark on the bolt's head");
}

void torque(AidFilling& filling) {
  const std::vector<const trade::Reading*> torques = torques_of(filling.reader());
  std::vector<std::string> joints;
  for (const trade::Reading* reading : torques) joints.push_back(joint_of(*reading));
  const auto found = std::ranges::find(joints, filling.offered(joints));
  if (found == joints.end()) return filling.ask("joint", "the joint is not chosen yet");
  const trade::Reading& reading = *torques[static_cast<std::size_t>(found - joints.begin())];
  filling.set("joint", has_usual_range(reading) ? *found : "none named", reading.name);
  filling.computed("printed", [&](FactReader& facts) { return printed(facts, reading); });
  fill_thread(filling, reading);
}

}  // namespace

AidFills joint_aid_fields() { return {{"torque", torque}}; }

}  // namespace rollwright::build
