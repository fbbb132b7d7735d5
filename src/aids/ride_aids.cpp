#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "aids/aids.hpp"
#include "aids/route_given.hpp"
#include "base/text.hpp"
#include "mech/climb.hpp"
#include "mech/hill_start.hpp"
#include "mech/ride_odds.hpp"
#include "mech/ride_values.hpp"

namespace rollwright::aids {

namespace {

template <class RowOfData>
std::vector<std::string> names_of(std::span<const RowOfData> rows) {
  std::vector<std::string> names;
  for (const RowOfData& row : rows) names.emplace_back(row.name);
  return names;
}
double usual(std::span<const mech::RideValue> rows, const std::string& name) {
  return std::ranges::find(rows, name, &mech::RideValue::name)->usual;
}
std::vector<std::string> law_names() {
  std::vector<std::string> names;
  for (const mech::AssistLaw& law : mech::assist_laws()) {
    names.push_back(fmt::format("{}: {}", law.region, law.name));
  }
  return names;
}

Result<mech::RiderPower> rider_power(const Given& given) {
  if (given.has("rider_power")) {
    return mech::RiderPower{given.amount("rider_power", watt), 0.1};  // measured: a tenth from day to day
  }
  const auto styles = mech::riding_styles();
  const auto style = std::ranges::find(styles, given.word("style"), &mech::RidingStyle::name);
  return mech::rider_power_by_style(style->key, given.amount("rider", kg));
}

Result<mech::Motor> motor_of(const Given& given) {
  return mech::motor_by_print({.place = given.word("motor") == "at the cranks"
                                            ? mech::MotorPlace::kCranks
                                            : mech::MotorPlace::kWheel,
                               .most = given.amount("motor_most", watt),
                               .support = given.number("support") / 100,
                               .most_torque = given.amount("motor_torque", newton_metre),
                               .free_turns_per_min = given.number("free_turns"),
                               .supply = given.amount("supply", volt)});
}

mech::AssistLaw law_of(const Given& given) {
  const std::vector<std::string> names = law_names();
  const auto found = std::ranges::find(names, given.word("law"));
  return mech::assist_laws()[static_cast<std::size_t>(found - names.begin())];
}

Result<mech::OddsAsked> asked_of(const Given& given) {
  const auto power = rider_power(given);
  const auto motor = motor_of(given);
  const auto health = mech::health_by_age(given.number("cycles"), given.number("years"));
  if (!power) return std::unexpected(power.error());
  if (!motor) return std::unexpected(motor.error());
  if (!health) return std::unexpected(health.error());
  mech::OddsAsked asked;
  asked.ride.bike.road = {
      .whole = given.amount("rider", kg) + given.amount("bike", kg) + given.amount("luggage", kg),
      .drag_area_m2 = usual(mech::drag_areas_m2(), given.word("posture")),
      .rolling = given.has("rolling") ? given.number("rolling")
                                      : usual(mech::rolling_resistances(), given.word("ground")),
      .drive_efficiency = usual(mech::drive_efficiencies(), given.word("drive"))};
  asked.ride.bike.motor = *motor;
  asked.ride.bike.low_gear = given.amount("low_gear", mm);
  asked.ride.bike.high_gear = given.amount("high_gear", mm);
  asked.ride.rider.power = *power;
  asked.ride.law = law_of(given);
  asked.ride.weather = {.air = {.temperature_c = given.number("temperature")},
                        .wind = {.at_ten_metres = given.amount("wind", metre_per_second),
                                 .from_deg = given.amount("wind_from", radian).in(degree)}};
  asked.battery = {.printed = given.amount("battery", watt_hour), .health = *health,
                   .reserve = given.number("reserve") / 100};
  return asked;
}

std::string hours(double seconds) {
  const auto minutes = static_cast<int>(std::lround(seconds / 60));
  return fmt::format("{} h {:02} min", minutes / 60, minutes % 60);
}

/// Draws can be unanimous; the ride is not certain for that.
std::string in_hundred(double share) {
  if (share > 0.995) return "over 99 in 100";
  if (share < 0.005) return "under 1 in 100";
  return fmt::format("{:.0f} in 100", 100 * share);
}

/// How far the draws leave the odds open.
std::string odds_note(const mech::RideOdds& odds) {
  const std::string least = in_hundred(odds.home_least);
  const std::string most = in_hundred(odds.home_most);
  if (least == most) return fmt::format("as far as {} draws tell", odds.draws);
  return fmt::format("between {} and {}, as far as {} draws tell", least, most, odds.draws);
}

void add_odds(const mech::RideWay& way, const mech::RideOdds& odds, Reckoned& reckoned) {
  reckoned.rows = {
      {"Comes home with charge left", in_hundred(odds.home), "", odds_note(odds)},
      row("Way", {way.length.in(mm), Dimension::kLength, "km", 1}),
      {"Charge left at the end", with_unit(odds.left.middle.in(watt_hour), "Wh", 0), "",
       fmt::format("nine in ten times over {}", with_unit(odds.left.low.in(watt_hour), "Wh", 0))},
      {"Time", hours(odds.seconds.middle), "",
       fmt::format("between {} and {} in eight of ten, without stops", hours(odds.seconds.low),
                   hours(odds.seconds.high))}};
  reckoned.rows[1].us = rounded(way.length.in(mile), 1) + " mi";
  if (odds.empty_at) {
    reckoned.rows.push_back({"Where it ran out, if it did",
                             with_unit(odds.empty_at->middle.in(mm), "km", 1), "",
                             fmt::format("one in ten before {}",
                                         with_unit(odds.empty_at->low.in(mm), "km", 1))});
  }
  if (odds.walked > 0.01) {
    reckoned.rows.push_back({"Has to walk over 100 m", in_hundred(odds.walked), "", ""});
  }
  Band band{.title = "Charge left along the way", .along_unit = "km", .unit = "Wh"};
  for (const mech::LeftAlong& place : odds.along) {
    band.along.push_back(place.along.in(km));
    band.low.push_back(place.left.low.in(watt_hour));
    band.middle.push_back(place.left.middle.in(watt_hour));
    band.high.push_back(place.left.high.in(watt_hour));
  }
  reckoned.bands.push_back(std::move(band));
}

Result<Reckoned> home_again(const Given& given) {
  Reckoned reckoned;
  const auto way = way_of(given, reckoned);
  if (!way) return std::unexpected(way.error());
  const auto asked = asked_of(given);
  if (!asked) return std::unexpected(asked.error());
  const auto odds = mech::ride_odds(*way, *asked);
  if (!odds) return std::unexpected(odds.error());
  add_odds(*way, *odds, reckoned);
  return reckoned;
}

Aid home_aid() {
  const auto kilograms = [](const char* key, const char* label, const char* preset) {
    return amount(key, label, Dimension::kMass, preset);
  };
  return {.id = "home-again", .title = "Will it come home?",
          .lead = "Odds that an e-bike's battery lasts a recorded or planned way.",
          .inputs = {route_fields()[0], route_fields()[1], kilograms("rider", "Rider", "80 kg"), kilograms("bike", "Bike", "26 kg"),
                     kilograms("luggage", "Luggage", "5 kg"),
                     starting_with(choice("style", "Rides", names_of(mech::riding_styles())),
                                 std::string(mech::riding_styles()[1].name)),
                     amount("rider_power", "Measured power", Dimension::kPower, "",
                            "at the pedals; goes before the style; may stay empty"),
                     choice("posture", "Sits", names_of(mech::drag_areas_m2())),
                     starting_with(choice("ground", "Tyre and ground",
                                        names_of(mech::rolling_resistances())),
                                 std::string(mech::rolling_resistances()[1].name)),
                     plain_number("rolling", "Rolling resistance, stated", "",
                                  "over weight; goes before tyre and ground; may stay empty"),
                     choice("drive", "Drive", names_of(mech::drive_efficiencies())),
                     amount("low_gear", "Lowest development", Dimension::kLength, "1.9 m"),
                     amount("high_gear", "Highest development", Dimension::kLength, "7 m"),
                     choice("law", "Help by law", law_names()),
                     choice("motor", "Motor", {"at the cranks", "in the wheel"}),
                     plain_number("support", "Support, per cent of the rider's power", "150"),
                     amount("motor_most", "Motor's greatest power", Dimension::kPower, "500 W"),
                     amount("motor_torque", "Motor's greatest torque", Dimension::kTorque, "60 N·m"),
                     plain_number("free_turns", "Turns per minute without load", "130"),
                     amount("supply", "Voltage", Dimension::kVoltage, "36 V"),
                     amount("battery", "Battery, printed", Dimension::kEnergy, "500 Wh"),
                     plain_number("years", "Age of the battery, years", "1"),
                     plain_number("cycles", "Full charges so far", "50"),
                     plain_number("reserve", "Kept back, per cent", "5"),
                     plain_number("temperature", "Temperature, °C", "12"),
                     amount("wind", "Wind as forecast", Dimension::kSpeed, "3 m/s"),
                     amount("wind_from", "Wind from", Dimension::kAngle, "250 °",
                            "clockwise from north")},
          .method = "2,000 draws of one day each over the road power equation, the motor's map and the "
                    "battery by cold and age. Weather that changes on the way, stops and a rider who "
                    "tires are left aside; odds are as good as what goes in.",
          .source = "road-power, e-bike-energy, dc-motor, battery-cold, battery-age, ride-odds",
          .caution = "An estimate, no promise: leave something in hand where walking home would be "
                     "dangerous.",
          .reckon = home_again};
}

std::string per_cent(double slope) { return fmt::format("{:.1f} %", 100 * slope); }

/// What the steepest of the way is to the steepest start.
void add_way(double slope, double steepest, Reckoned& reckoned) {
  const bool starts = slope <= steepest;
  reckoned.rows.push_back({"Steepest of the way", per_cent(slope), "",
                           starts ? per_cent(steepest - slope) + " in hand" : "does not start there"});
  reckoned.rows.front().note +=
      fmt::format("; the way's steepest is {}", per_cent(slope));
  if (!starts) {
    reckoned.cautions.push_back("The way has a slope on which this bike does not start.");
  }
}

Result<Reckoned> hill(const Given& given) {
  const auto push = mech::seated_push(given.amount("rider", kg));
  if (!push) return std::unexpected(push.error());
  const mech::HillStart start{
      .front = given.number("front"), .rear = given.number("rear"),
      .hub_ratio = given.number("hub_ratio"), .wheel_diameter = given.amount("wheel", mm),
      .crank = given.amount("crank", mm), .push = *push,
      .motor = given.has("motor") ? given.amount("motor", newton_metre) : Torque{},
      .whole = given.amount("whole", kg),
      .wheel_motor = given.has("wheel_motor") ? given.amount("wheel_motor", newton_metre)
                                              : Torque{}};
  const auto limits = mech::start_limits(start, {.wheelbase = given.amount("wheelbase", mm),
                                                 .mass_ahead = given.amount("mass_ahead", mm),
                                                 .mass_height = given.amount("mass_height", mm),
                                                 .grip = given.number("grip"),
                                                 .front_driven = given.word("driven") == "front"});
  if (!limits) return std::unexpected(limits.error());
  const char* what = limits->limit == mech::StartLimit::kTorque ? "rider, motor and gear give no more"
                     : limits->limit == mech::StartLimit::kGrip ? "the driven tyre slips"
                                                                : "the front wheel lifts";
  Reckoned reckoned{.rows = {{"Steepest start", per_cent(limits->steepest), "", what},
                           {"By torque and gear", per_cent(limits->by_torque), "", ""},
                           {"By grip of the tyre", per_cent(limits->by_grip), "", ""},
                           {"Until the front wheel lifts", per_cent(limits->by_front_wheel), "", ""}},
                  .cautions = {"A jerk of the rider's slips or lifts earlier: keep a fifth in hand."}};
  if (given.has("slope")) add_way(given.number("slope") / 100, limits->steepest, reckoned);
  return reckoned;
}

Aid hill_aid() {
  return {.id = "hill-start", .title = "Steepest start",
          .lead = "The steepest slope on which a bike can be started in its lowest gear.",
          .inputs = {amount("rider", "Rider", Dimension::kMass, "80 kg"),
                     amount("whole", "Bike, rider and luggage", Dimension::kMass, "110 kg"),
                     plain_number("front", "Smallest chainring, teeth", "38"),
                     plain_number("rear", "Largest sprocket, teeth", "20"),
                     plain_number("hub_ratio", "Lowest ratio of the hub gear", "0.527", "1 without one"),
                     amount("wheel", "Wheel diameter", Dimension::kLength, "696 mm"),
                     amount("crank", "Crank length", Dimension::kLength, "170 mm"),
                     amount("motor", "Motor's torque at the cranks", Dimension::kTorque, "",
                            "may stay empty"),
                     amount("wheel_motor", "Torque of a motor in the wheel", Dimension::kTorque, "",
                            "may stay empty"),
                     choice("driven", "Its wheel", {"rear", "front"}),
                     amount("wheelbase", "Wheelbase", Dimension::kLength, "1090 mm"),
                     amount("mass_ahead", "Whole mass ahead of the rear axle", Dimension::kLength,
                            "450 mm", "centre of bike, rider and luggage"),
                     amount("mass_height", "Whole mass over the ground", Dimension::kLength, "1050 mm"),
                     plain_number("grip", "Grip of the tyre", "0.7",
                                  "0.7 dry tarmac, 0.5 wet, 0.4 gravel"),
                     plain_number("slope", "Steepest slope of the way, per cent", "",
                                  "may stay empty")},
          .method = "Pull at the tyre against gravity and rolling; moments about the rear wheel for "
                    "grip and lift. A rider's push varies by a quarter.",
          .source = "hill-start, tyre-grip",
          .caution = "",
          .reckon = hill};
}

}  // namespace

std::vector<Aid> ride_aids() { return {home_aid(), hill_aid()}; }

}  // namespace rollwright::aids
