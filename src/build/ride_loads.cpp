#include "build/ride_loads.hpp"

#include <cmath>

#include <fmt/format.h>

#include "base/text.hpp"
#include "mech/rider_fit.hpp"
#include "mech/tyre.hpp"

namespace rollwright::build {
namespace {

// Rider and bike together stand 45 to 55 on front and rear wheel of an upright bike (published
// pressure charts, [tyre-drop]); luggage sits over the rear axle, in a front-load bike halfway.
constexpr double kFrontShare = 0.45;
constexpr double kFrontShareOfLoadInFront = 0.5;

// Heights of the centres of mass, common practice (from memory).
constexpr auto kRiderOverSaddle = 220 * mm;
constexpr auto kBikeOverAxles = 200 * mm;
constexpr auto kLuggageOverTyre = 100 * mm;
constexpr auto kLoadInFrontOverAxles = 300 * mm;

std::optional<Length> saddle_over_bracket(FactReader& facts) {
  const auto inseam = facts.number("rider", "rider_inseam");
  const auto crank = facts.number("crankset", "crank_length");
  const auto seat_angle = facts.number("frame", "seat_angle");
  if (!inseam || !crank || !seat_angle) return std::nullopt;
  const auto height = mech::saddle_height(*inseam * mm, *crank * mm);
  if (!height) {
    facts.ask("saddle height: " + height.error().sentence);
    return std::nullopt;
  }
  return std::sin(*seat_angle) * height->by_bracket;
}

}  // namespace

std::optional<Mass> bike_mass_of(FactReader& facts) {
  double sum = 0;
  bool known = true;
  for (const trade::Slot& slot : facts.trade().slots) {
    const trade::Part* part = part_at(facts.bike(), slot.id);
    if (part == nullptr || slot.id.text == "charger") continue;  // the charger stays at home
    const auto mass = facts.number(slot.id.text, "mass");
    known = known && mass.has_value();
    sum += mass.value_or(0) * slot.quantity;
  }
  return known ? std::optional(sum * kg) : std::nullopt;
}

std::optional<StandingMass> standing_mass(FactReader& facts) {
  const auto bike = bike_mass_of(facts);
  const auto rider = facts.number("rider", "rider_mass");
  const auto luggage = facts.number("order", "luggage");
  const auto layout = facts.word("frame", "layout");
  if (!bike || !rider || !luggage || !layout) return std::nullopt;
  StandingMass all{.bike = *bike, .rider = *rider * kg, .luggage = *luggage * kg,
                   .load_in_front = *layout == "front-load"};
  const double of_luggage = all.load_in_front ? kFrontShareOfLoadInFront : 0;
  all.front = kFrontShare * (all.bike + all.rider) + of_luggage * all.luggage;
  all.rear = all.whole() - all.front;
  all.words = fmt::format("bike {} kg and rider {} kg taken as 45 to 55, luggage {} kg {}",
                          rounded(all.bike.in(kg), 1), rounded(*rider, 1), rounded(*luggage, 1),
                          all.load_in_front ? "half on each axle" : "on the rear axle");
  return all;
}

std::optional<MassCentre> mass_centre(FactReader& facts) {
  const auto mass = standing_mass(facts);
  const auto wheelbase = facts.number("frame", "wheelbase");
  const auto drop = facts.number("frame", "bb_drop");
  const auto width = facts.number("rear_tyre", "tyre_width");
  const auto seat = facts.number("rear_tyre", "bead_seat_diameter");
  const auto saddle = saddle_over_bracket(facts);
  if (!mass || !wheelbase || !drop || !width || !seat || !saddle) return std::nullopt;
  const Length tyre = mech::tyre_diameter({*width * mm, *seat * mm});
  const Length axles = 0.5 * tyre;
  const Length rider = axles - *drop * mm + *saddle + kRiderOverSaddle;
  const Length luggage = mass->load_in_front ? axles + kLoadInFrontOverAxles
                                             : tyre + kLuggageOverTyre;
  const double whole = mass->whole().in(kg);
  return MassCentre{
      .wheelbase = *wheelbase * mm,
      .behind_front = (mass->rear.in(kg) / whole) * (*wheelbase * mm),
      .height = (mass->rider.in(kg) / whole) * rider +
                (mass->bike.in(kg) / whole) * (axles + kBikeOverAxles) +
                (mass->luggage.in(kg) / whole) * luggage,
      .words = mass->words + "; the rider's centre 220 mm over the saddle"};
}

}  // namespace rollwright::build
