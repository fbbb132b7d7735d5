#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "build/aid_filling.hpp"
#include "build/drive_gears.hpp"
#include "build/ride_loads.hpp"
#include "mech/tyre.hpp"

// Tyres, the ride and starting on a hill.
namespace rollwright::build {

namespace {

bool comes_as_wheel(const FactReader& facts, const std::string& end) {
  const trade::SlotId wheel(end + "_wheel");
  const trade::BuildTemplate* build = facts.bike().build;
  return facts.filled(wheel.text) ||
         (build != nullptr && std::ranges::count(build->required, wheel) > 0);
}

}  // namespace

std::string hub_slot(const FactReader& facts, const std::string& end) {
  return end + (comes_as_wheel(facts, end) ? "_wheel" : "_hub");
}

std::string rim_slot(const FactReader& facts, const std::string& end) {
  return end + (comes_as_wheel(facts, end) ? "_wheel" : "_rim");
}

std::optional<Told> tyre_size(FactReader& facts, const std::string& end) {
  const auto width = facts.number(end + "_tyre", "tyre_width");
  const auto seat = facts.number(end + "_tyre", "bead_seat_diameter");
  if (!width || !seat) return std::nullopt;
  return Told{mech::designation({*width * mm, *seat * mm}),
              origin_of(facts, end + "_tyre", "tyre_width")};
}

std::optional<Told> whole_mass(FactReader& facts) {
  const auto mass = standing_mass(facts);
  if (!mass) return std::nullopt;
  return Told{rounded(mass->whole().in(kg), 1) + " kg",
              fmt::format("bike {} kg, rider {} kg, luggage {} kg", rounded(mass->bike.in(kg), 1),
                          rounded(mass->rider.in(kg), 1), rounded(mass->luggage.in(kg), 1))};
}

namespace {

void tyre_pressure(AidFilling& filling) {
  const std::string tyre = filling.at_end("tyre");
  const FactReader facts = filling.reader();
  const std::string rim = rim_slot(facts, filling.end());
  filling.computed("tyre", [&](FactReader& reader) { return tyre_size(reader, filling.end()); });
  filling.fact_if_known("real_width", tyre, "tyre_width");
  filling.computed("mass", whole_mass);
  filling.computed("front_share", [](FactReader& reader) -> std::optional<Told> {
    const auto mass = standing_mass(reader);
    if (!mass) return std::nullopt;
    return Told{rounded(100 * mass->front.in(kg) / mass->whole().in(kg), 1), mass->words};
  });
  filling.fact("tyre_most", tyre, "pressure_max");
  filling.fact("tyre_least", tyre, "pressure_min");
  filling.fact("rim_most", rim, "pressure_max");
  filling.fact("rim", rim, "rim_hook");
  if (facts.word_if_known(rim, "rim_hook") == "hookless") {
    filling.fact("tyre_for_hookless", tyre, "hookless_released");
  } else {
    filling.fact_if_known("tyre_for_hookless", tyre, "hookless_released");
  }
}

void tyre_room(AidFilling& filling) {
  const std::string holder = filling.end() == "front" ? "fork" : "frame";
  const FactReader facts = filling.reader();
  const auto widest = facts.number_if_known(holder, "max_tyre_width");
  filling.ask("opening",
              fmt::format("measure the opening at the {} tyre: no maker prints it{}", filling.end(),
                          widest ? fmt::format("; for {} its maker allows tyres up to {} mm",
                                               facts.named(holder), plain(*widest))
                                 : ""));
  filling.fact("real_width", filling.at_end("tyre"), "tyre_width");
}

/// The slot of the motor, empty for a bike without one.
std::string motor_slot(const FactReader& facts) {
  for (const char* slot : {"motor", "rear_hub", "front_hub"}) {
    if (facts.filled(slot) && facts.can_state(slot, "motor_torque")) return slot;
  }
  return "";
}

/// A development in metres for the lowest or the highest gear.
std::optional<Told> development(FactReader& facts, bool highest) {
  const auto fronts = front_teeth(facts);
  const auto rears = rear_teeth(facts);
  const auto ratios = hub_ratios(facts);
  const auto width = facts.number("rear_tyre", "tyre_width");
  const auto seat = facts.number("rear_tyre", "bead_seat_diameter");
  if (!fronts || !rears || !ratios || !width || !seat) return std::nullopt;
  const double front = highest ? fronts->numbers.back() : fronts->numbers.front();
  const double rear = highest ? rears->numbers.front() : rears->numbers.back();
  const double hub = highest ? ratios->numbers.back() : ratios->numbers.front();
  const double way = front / rear * hub * mech::tyre_circumference({*width * mm, *seat * mm}).in(mm);
  return Told{rounded(way / 1000, 2) + " m",
              fmt::format("{} over {} teeth{}", plain(front), plain(rear),
                          hub == 1 ? "" : fmt::format(", hub {}", plain(hub)))};
}

/// What the controller lets through, times the share that comes out as drive.
std::optional<Told> motor_most(FactReader& facts, const std::string& motor) {
  const auto volts = facts.number(motor, "voltage");
  const auto amperes = facts.number(motor, "motor_current_max");
  const auto efficiency = facts.number(motor, "drive_efficiency");
  if (!volts || !amperes || !efficiency) return std::nullopt;
  return Told{rounded(*volts * *amperes * *efficiency / 100, 0) + " W",
              fmt::format("{}: {} V, {} A, {} % of it as drive", facts.named(motor), plain(*volts),
                          plain(*amperes), plain(*efficiency))};
}

struct LawWord {
  std::string_view assist_class;
  std::string_view law;  // as the aid names it
};
constexpr LawWord kLaws[] = {
    {"25 km/h", "European Union: Pedelec, no type approval"},
    {"45 km/h", "European Union: Speed pedelec L1e-B"},
    {"class 1", "United States: Class 1"},
    {"class 2", "United States: Class 2"},
    {"class 3", "United States: Class 3"},
};

std::optional<Told> law(FactReader& facts) {
  const auto wanted = facts.word("order", "assist_class");
  if (!wanted) return std::nullopt;
  const auto found = std::ranges::find(kLaws, *wanted, &LawWord::assist_class);
  if (found != std::end(kLaws)) return Told{std::string(found->law), "the order: " + *wanted};
  facts.ask(fmt::format("the order's assist class is \"{}\": which law holds for its help?",
                        *wanted));
  return std::nullopt;
}

}  // namespace

std::optional<Told> posture(FactReader& facts) {
  const auto layout = facts.word("frame", "layout");
  const auto bar = facts.word("handlebar", "bar_type");
  if (!layout || !bar) return std::nullopt;
  if (*layout == "front-load") {
    return Told{"cargo bike, loaded", "taken from the frame's layout: " + *layout};
  }
  return Told{*bar == "drop" || *bar == "flat" ? "hands on the hoods, or a flat bar leaned on"
                                               : "upright, wide bar",
              fmt::format("taken from {}: {}", facts.named("handlebar"), *bar)};
}

namespace {

std::optional<Told> drive(FactReader& facts) {
  const auto ratios = hub_ratios(facts);
  if (!ratios) return std::nullopt;
  if (ratios->numbers.size() > 1) return Told{"hub gear", ratios->origin};
  if (facts.filled("rear_sprocket")) {
    return Told{"one gear, chain or belt", facts.named("rear_sprocket")};
  }
  return Told{"chain and derailleur, clean", facts.named("cassette")};
}

void fill_motor(AidFilling& filling, const std::string& motor) {
  filling.computed("motor", [&](FactReader& facts) -> std::optional<Told> {
    const auto place = facts.word(motor, "placement");
    if (!place) return std::nullopt;
    return Told{*place == "mid" ? "at the cranks" : "in the wheel",
                origin_of(facts, motor, "placement")};
  });
  filling.computed("motor_most", [&](FactReader& facts) { return motor_most(facts, motor); });
  filling.fact("motor_torque", motor, "motor_torque");
  filling.fact("supply", "battery", "voltage");
  filling.fact("battery", "battery", "energy");
}

void home_again(AidFilling& filling) {
  const std::string motor = motor_slot(filling.reader());
  if (motor.empty()) return filling.not_here("this bike has no motor whose battery could run out");
  filling.along_route();
  filling.fact("rider", "rider", "rider_mass");
  filling.computed("bike", [](FactReader& facts) -> std::optional<Told> {
    const auto mass = bike_mass_of(facts);
    if (!mass) return std::nullopt;
    return Told{rounded(mass->in(kg), 1) + " kg", "sum of the parts"};
  });
  filling.fact("luggage", "order", "luggage");
  filling.computed("posture", posture);
  filling.fact_if_known("rolling", "rear_tyre", "rolling");
  filling.computed("drive", drive);
  filling.computed("low_gear", [](FactReader& facts) { return development(facts, false); });
  filling.computed("high_gear", [](FactReader& facts) { return development(facts, true); });
  filling.computed("law", law);
  fill_motor(filling, motor);
}

void fill_start_gear(AidFilling& filling) {
  filling.computed("front", [](FactReader& facts) -> std::optional<Told> {
    const auto found = front_teeth(facts);
    return found ? std::optional(Told{plain(found->numbers.front()), found->origin}) : std::nullopt;
  });
  filling.computed("rear", [](FactReader& facts) -> std::optional<Told> {
    const auto found = rear_teeth(facts);
    return found ? std::optional(Told{plain(found->numbers.back()), found->origin}) : std::nullopt;
  });
  filling.computed("hub_ratio", [](FactReader& facts) -> std::optional<Told> {
    const auto found = hub_ratios(facts);
    return found ? std::optional(Told{plain(found->numbers.front()), found->origin}) : std::nullopt;
  });
}

void fill_start_motor(AidFilling& filling) {
  const FactReader facts = filling.reader();
  const std::string motor = motor_slot(facts);
  const bool in_wheel = !motor.empty() && motor != "motor";
  filling.set("driven", motor == "front_hub" ? "front" : "rear",
              in_wheel ? facts.named(motor) : "driven by chain or belt");
  if (!motor.empty()) {
    filling.fact(in_wheel ? "wheel_motor" : "motor", motor, "motor_torque");
  }
}

void hill_start(AidFilling& filling) {
  filling.fact("rider", "rider", "rider_mass");
  filling.computed("whole", whole_mass);
  fill_start_gear(filling);
  filling.computed("wheel", [](FactReader& facts) -> std::optional<Told> {
    const auto width = facts.number("rear_tyre", "tyre_width");
    const auto seat = facts.number("rear_tyre", "bead_seat_diameter");
    if (!width || !seat) return std::nullopt;
    return Told{rounded(mech::tyre_diameter({*width * mm, *seat * mm}).in(mm), 0) + " mm",
                facts.named("rear_tyre")};
  });
  filling.fact("crank", "crankset", "crank_length");
  fill_start_motor(filling);
  filling.fact("wheelbase", "frame", "wheelbase");
  const auto centre = [&](const char* key, Length (*which)(const MassCentre&)) {
    filling.computed(key, [=](FactReader& facts) -> std::optional<Told> {
      const auto found = mass_centre(facts);
      if (!found) return std::nullopt;
      return Told{rounded(which(*found).in(mm), 0) + " mm", found->words};
    });
  };
  centre("mass_ahead", [](const MassCentre& at) { return at.wheelbase - at.behind_front; });
  centre("mass_height", [](const MassCentre& at) { return at.height; });
  if (const auto slope = filling.reader().number_if_known("order", "ride_steepest")) {
    filling.set("slope", rounded(*slope, 1), "the order's route");
  }
}

}  // namespace

AidFills ride_aid_fields() {
  return {{"tyre-pressure", tyre_pressure},
          {"tyre-room", tyre_room},
          {"home-again", home_again},
          {"hill-start", hill_start}};
}

}  // namespace rollwright::build
