#include "trade/rule_calculations.hpp"

namespace rollwright::trade {
namespace {

/// How far a spoke of the set is over the length that its side of the wheel asks for.
RuleCalculation spoke_row(std::string_view name) {
  using enum Dimension;
  return {.name = name,
          .arguments = {"flange circle", "flange offset", "other flange's offset", "spoke hole",
                        "holes", "effective rim diameter", "rim offset", "crosses",
                        "spoke's length"},
          .dimensions = {kLength, kLength, kLength, kLength, kNone, kLength, kLength, kNone,
                         kLength},
          .answer = kLength};
}

}  // namespace

const std::vector<RuleCalculation>& rule_calculations() {
  using enum Dimension;
  static const std::vector<RuleCalculation> kRows = {
      {.name = "belt_centre_distance_mm",
       .arguments = {"front teeth", "rear teeth", "belt teeth", "belt pitch"},
       .dimensions = {kNone, kNone, kNone, kLength},
       .answer = kLength},
      {.name = "primary_ratio",
       .arguments = {"front teeth", "rear teeth"},
       .dimensions = {kNone, kNone},
       .answer = kNone},
      {.name = "derailleur_capacity",
       .arguments = {"largest cog", "smallest cog", "largest ring", "smallest ring"},
       .dimensions = {kNone, kNone, kNone, kNone},
       .answer = kNone},
      {.name = "steerer_needed_mm",
       .arguments = {"lower stack", "head tube", "upper stack", "spacers", "stem height"},
       .dimensions = {kLength, kLength, kLength, kLength, kLength},
       .answer = kLength},
      spoke_row("spoke_over_front_left"),
      spoke_row("spoke_over_front_right"),
      spoke_row("spoke_over_rear_left"),
      spoke_row("spoke_over_rear_right"),
      {.name = "wheel_circumference",
       .arguments = {"bead seat", "tyre width"},
       .dimensions = {kLength, kLength},
       .answer = kLength},
      {.name = "toe_room",
       .arguments = {"front centre", "bead seat", "tyre width", "crank length"},
       .dimensions = {kLength, kLength, kLength, kLength},
       .answer = kLength},
      {.name = "pedal_lean",
       .arguments = {"bracket drop", "bead seat", "tyre width", "crank length", "stance width",
                     "pedal width", "pedal thickness"},
       .dimensions = {kLength, kLength, kLength, kLength, kLength, kLength, kLength},
       .answer = kAngle},
      {.name = "post_insertion",
       .arguments = {"inseam", "seat tube", "post length", "saddle stack"},
       .dimensions = {kLength, kLength, kLength, kLength},
       .answer = kLength},
      {.name = "dropper_room",
       .arguments = {"inseam", "seat tube", "post length", "saddle stack", "dropper insertion"},
       .dimensions = {kLength, kLength, kLength, kLength, kLength},
       .answer = kLength},
      {.name = "setback_change",
       .arguments = {"post setback", "saddle setback", "original setback"},
       .dimensions = {kLength, kLength, kLength},
       .answer = kLength},
      {.name = "charge_needed",
       .arguments = {"ride's length", "ride's climb", "rider and luggage", "bike",
                     "rolling resistance", "drag area", "speed", "rider's power",
                     "motor's efficiency", "usable share of the battery"},
       .dimensions = {kLength, kLength, kMass, kMass, kNone, kNone, kSpeed, kPower, kPercent,
                      kPercent},
       .answer = kEnergy},
      {.name = "steepest_start",
       .arguments = {"front teeth", "rear teeth", "lowest ratio of the hub", "bead seat",
                     "tyre width", "crank length", "rider", "motor torque", "rider and luggage",
                     "bike"},
       .dimensions = {kNone, kNone, kNone, kLength, kLength, kLength, kMass, kTorque, kMass, kMass},
       .answer = kPercent},
  };
  return kRows;
}

const RuleCalculation* find_rule_calculation(std::string_view name) {
  for (const RuleCalculation& row : rule_calculations()) {
    if (row.name == name) return &row;
  }
  return nullptr;
}

const std::vector<ReadingCalculation>& reading_calculations() {
  using enum Dimension;
  static const std::vector<ReadingCalculation> kRows = {
      {"steerer_cut", kLength},
      {"spoke_length_front_left", kLength},
      {"spoke_length_front_right", kLength},
      {"spoke_length_rear_left", kLength},
      {"spoke_length_rear_right", kLength},
      {"tension_tight_front", kForce},
      {"tension_tight_rear", kForce},
      {"tension_front_left", kForce},
      {"tension_front_right", kForce},
      {"tension_rear_left", kForce},
      {"tension_rear_right", kForce},
      {"tension_share_front", kPercent},
      {"tension_share_rear", kPercent},
      {"tyre_pressure_front", kPressure},
      {"tyre_pressure_rear", kPressure},
      {"belt_frequency", kFrequency},
      {"chain_links", kNone},
      {"saddle_height", kLength},
      {"saddle_over_pedal", kLength},
      {"assist_limit", kSpeed},
      {"wheel_circumference", kLength},
      {"rated_load", kMass},
      {"bike_mass", kMass},
  };
  return kRows;
}

const ReadingCalculation* find_reading_calculation(std::string_view name) {
  for (const ReadingCalculation& row : reading_calculations()) {
    if (row.name == name) return &row;
  }
  return nullptr;
}

}  // namespace rollwright::trade
