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

}  // namespace rollwright::trade
