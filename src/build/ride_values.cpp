#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "build/aid_filling.hpp"
#include "build/calculations.hpp"
#include "build/ride_loads.hpp"
#include "mech/tyre.hpp"

// What the bike carries: its mass from its parts, the load on each axle, and the pressures that
// follow.

namespace rollwright::build {
namespace {

std::optional<mech::PressureMarks> pressure_marks(FactReader& facts, const std::string& end) {
  const std::string rim = rim_slot(facts, end);
  const auto tyre_least = facts.number(end + "_tyre", "pressure_min");
  const auto tyre_most = facts.number(end + "_tyre", "pressure_max");
  const auto rim_most = facts.number(rim, "pressure_max");
  const auto hook = facts.word(rim, "rim_hook");
  if (!tyre_least || !tyre_most || !rim_most || !hook) return std::nullopt;
  mech::PressureMarks marks{.tyre_least = *tyre_least * bar,
                            .tyre_most = *tyre_most * bar,
                            .rim_most = *rim_most * bar,
                            .hookless_rim = *hook == "hookless"};
  if (!marks.hookless_rim) return marks;
  const auto released = facts.flag(end + "_tyre", "hookless_released");
  if (!released) return std::nullopt;
  marks.tyre_for_hookless = *released;
  return marks;
}

/// The value, or nothing with mech's own sentence as the question.
template <class T>
std::optional<T> or_ask(FactReader& facts, const std::string& what, const Result<T>& result) {
  if (result) return *result;
  facts.ask(fmt::format("{}: {}", what, result.error().sentence));
  return std::nullopt;
}

/// What carries the load, and the fact that says how much.
struct Carrier {
  const char* slot;
  const char* load;
};
Carrier carrier_of(const FactReader& facts) {
  for (const char* slot : {"cargo_platform", "passenger_kit"}) {
    if (facts.filled(slot)) return {slot, "cargo_load"};
  }
  return {"frame", "rack_load_max"};  // a frame's own rack, or the one on its bosses
}

}  // namespace

Computed tyre_pressure(FactReader& facts, const std::string& end) {
  const auto marks = pressure_marks(facts, end);
  const auto width = facts.number(end + "_tyre", "tyre_width");
  const auto loads = standing_mass(facts);
  if (!marks || !width || !loads) return std::nullopt;
  const std::string what = facts.named(end + "_tyre");
  const auto range = or_ask(facts, what, mech::pressure_range(*marks));
  if (!range) return std::nullopt;
  const double load = (end == "front" ? loads->front : loads->rear).in(kg);
  const auto suggested =
      or_ask(facts, what, mech::suggested_pressure(load * kg, *width * mm, *range));
  if (!suggested) return std::nullopt;
  std::string how = fmt::format("{} kg on this axle ({})", rounded(load, 0), loads->words);
  if (suggested->limited) {
    how += fmt::format("; {} bar would suit the load, the marks allow {} to {}",
                       rounded(suggested->before_limits.in(bar), 1),
                       rounded(range->least.in(bar), 1), rounded(range->most.in(bar), 1));
  }
  return ComputedValue{.target = suggested->pressure.in(bar),
                       .least = range->least.in(bar),
                       .most = range->most.in(bar),
                       .limit_source = fmt::format("least by the tyre's print, most by the {}'s",
                                                   range->most_set_by),
                       .how = how};
}

Computed wheel_circumference(FactReader& facts) {
  // A motor in the front hub counts the turns of the front wheel, any other those of the rear one.
  std::string tyre = "rear_tyre";
  if (facts.can_state("front_hub", "placement")) {
    const auto placement = facts.word("front_hub", "placement");
    if (!placement) return std::nullopt;
    if (*placement == "front hub") tyre = "front_tyre";
  }
  const auto width = facts.number(tyre, "tyre_width");
  const auto seat = facts.number(tyre, "bead_seat_diameter");
  if (!width || !seat) return std::nullopt;
  const double round = mech::tyre_circumference({*width * mm, *seat * mm}).in(mm);
  return ComputedValue{
      .target = round,
      .least = 0.99 * round,
      .most = 1.01 * round,
      .limit_source = "1 % either way",
      .how = fmt::format("size {}-{} of {}; the roll-out with the rider on is the better value",
                         plain(*width), plain(*seat), facts.named(tyre))};
}

Computed bike_mass(FactReader& facts) {
  const auto bike = bike_mass_of(facts);
  const auto permitted = facts.number("frame", "permitted_total_mass");
  const auto load = facts.number("order", "load");
  if (!bike || !permitted || !load) return std::nullopt;
  return ComputedValue{
      .target = bike->in(kg),
      .most = *permitted - *load,
      .limit_source = "permitted total mass of the frame, less rider and luggage",
      .how = fmt::format("sum of the parts; {} kg are permitted in all, {} kg go to rider and "
                         "luggage",
                         plain(*permitted), rounded(*load, 1))};
}

Computed rated_load(FactReader& facts) {
  const Carrier carrier = carrier_of(facts);
  const auto carries = facts.number(carrier.slot, carrier.load);
  const auto bike = bike_mass_of(facts);
  const auto rider = facts.number("rider", "rider_mass");
  const auto permitted = facts.number("frame", "permitted_total_mass");
  const auto layout = facts.word("frame", "layout");
  if (!carries || !bike || !rider || !permitted || !layout) return std::nullopt;
  double load = std::min(*carries, *permitted - bike->in(kg) - *rider);
  if (*layout == "front-load") {
    const auto front = facts.number("frame", "max_front_load");
    if (!front) return std::nullopt;
    load = std::min(load, *front);
  }
  if (load <= 0) {
    facts.ask("bike and rider use up the permitted total mass: nothing is left to carry");
    return std::nullopt;
  }
  return ComputedValue{
      .target = load,
      .most = load,
      .limit_source = "the least of carrier, front load and permitted total mass",
      .how = fmt::format("{} takes {} kg; with a test rider no heavier than the customer",
                         facts.named(carrier.slot), plain(*carries))};
}

}  // namespace rollwright::build
