#include "build/values.hpp"

#include "build/calculations.hpp"

namespace rollwright::build {
namespace {

std::map<std::string, Calculation> make_table() {
  std::map<std::string, Calculation> table = {
      {"belt_frequency", belt_frequency},
      {"chain_links", chain_links},
      {"assist_limit", assist_limit},
      {"wheel_circumference", wheel_circumference},
      {"bike_mass", bike_mass},
      {"rated_load", rated_load},
      {"steerer_cut", steerer_cut},
      {"saddle_height", saddle_height},
      {"saddle_over_pedal", saddle_over_pedal},
  };
  for (const std::string end : {"front", "rear"}) {
    table["tyre_pressure_" + end] = [end](FactReader& facts) { return tyre_pressure(facts, end); };
    table["tension_tight_" + end] = [end](FactReader& facts) { return tight_tension(facts, end); };
    table["tension_share_" + end] = [end](FactReader& facts) { return tension_share(facts, end); };
    for (const std::string side : {"left", "right"}) {
      table["spoke_length_" + end + "_" + side] = [end, side](FactReader& facts) {
        return spoke_length(facts, end, side);
      };
      table["tension_" + end + "_" + side] = [end, side](FactReader& facts) {
        return spoke_tension(facts, end, side);
      };
    }
  }
  return table;
}

}  // namespace

const std::map<std::string, Calculation>& calculations() {
  static const std::map<std::string, Calculation> kTable = make_table();
  return kTable;
}

}  // namespace rollwright::build
