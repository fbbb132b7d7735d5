#include <fmt/format.h>

#include "base/text.hpp"
#include "build/aid_filling.hpp"
#include "build/calculations.hpp"
#include "build/ride_loads.hpp"
#include "mech/rider_fit.hpp"

// The rider on the bike.
namespace rollwright::build {
namespace {

void saddle_height(AidFilling& filling) {
  filling.fact("inseam", "rider", "rider_inseam");
  filling.fact("crank", "crankset", "crank_length");
  filling.fact("top_tube", "frame", "standover");
}

std::optional<Told> bar_spacers(FactReader& facts) {
  const auto upper = facts.number("headset", "upper_stack");
  const auto spacers = facts.number("headset", "spacers_supplied");
  if (!upper || !spacers) return std::nullopt;
  return Told{plain(*upper + *spacers) + " mm",
              fmt::format("{}: upper stack {} mm and all spacers", facts.named("headset"),
                          plain(*upper))};
}

std::optional<Told> saddle_by_inseam(FactReader& facts) {
  const auto height = asked_saddle(facts);
  if (!height) return std::nullopt;
  return Told{rounded(height->by_bracket.in(mm), 0) + " mm", "0.883 of the rider's inseam"};
}

void contact_points(AidFilling& filling) {
  filling.fact("stack", "frame", "stack");
  filling.fact("reach", "frame", "reach");
  filling.fact("head_angle", "frame", "head_angle");
  filling.computed("spacers", bar_spacers);
  filling.fact("stem", "stem", "stem_length");
  filling.fact("stem_angle", "stem", "stem_angle");
  filling.computed("saddle", saddle_by_inseam);
  filling.fact("seat_angle", "frame", "seat_angle");
}

void sag(AidFilling& filling) {
  const FactReader facts = filling.reader();
  if (facts.word_if_known("fork", "fork_type") == "rigid") {
    return filling.not_here(facts.named("fork") + " is rigid");
  }
  filling.fact("travel", "fork", "travel");
  filling.computed("share", [](FactReader& reader) -> std::optional<Told> {
    const auto share = reader.number("fork", "sag_percent");
    if (!share) return std::nullopt;
    return Told{plain(*share), origin_of(reader, "fork", "sag_percent")};
  });
  filling.computed("wheel_force", [](FactReader& reader) -> std::optional<Told> {
    const auto rider = reader.number("rider", "rider_mass");
    if (!rider) return std::nullopt;
    constexpr double kGravity = 9.80665;
    constexpr double kFrontShare = 0.45;  // of an upright rider, [tyre-drop]
    return Told{rounded(*rider * kGravity * kFrontShare, 0) + " N",
                fmt::format("45 % of the rider's {} kg", plain(*rider))};
  });
  filling.set("leverage", "1", "a fork moves with its wheel");
  filling.fact("stroke", "fork", "travel");
}

}  // namespace

AidFills fit_aid_fields() {
  return {{"saddle-height", saddle_height}, {"contact-points", contact_points}, {"sag", sag}};
}

}  // namespace rollwright::build
