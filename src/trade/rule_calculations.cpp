#include "trade/rule_calculations.hpp"

namespace rollwright::trade {

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
