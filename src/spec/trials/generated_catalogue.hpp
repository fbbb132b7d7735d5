#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "spec/bests.hpp"
#include "spec/bike.hpp"
#include "spec/problem.hpp"
#include "trade/trade.hpp"

namespace rollwright::spec::testing {

/// An invented trade with a catalogue, for tests and measurements that compare engines.
struct Catalogue {
  trade::Trade trade;
  std::vector<trade::Part> parts;
  trade::Part order;
  trade::Part rider;
  Arrivals arrivals;
  std::string build_id = "T";

  [[nodiscard]] const trade::BuildTemplate& build() const { return trade.templates.at(build_id); }
  [[nodiscard]] ProblemInput input() const { return {trade, build(), parts, order, rider}; }
};

struct CatalogueSize {
  int least_slots = 3;
  int most_slots = 6;
  int most_parts = 5;  // per slot
  int least_rules = 4;
  int most_rules = 9;
  double not_known = 0.1;    // share of facts, masses too
  double looseness = 0.5;    // how easily rules hold, 0 to 1
  double no_arrival = 0.05;  // share of parts that cannot be had
  double heavy_sums = 0.2;   // share of catalogues with a limit on the mass of the whole bike
};

/// A small one. All nine rule shapes occur, conditions, optional slots, discontinued parts, facts
/// that are not known; prices, masses and arrivals are drawn so that ties occur.
[[nodiscard]] Catalogue generated(std::uint64_t seed, const CatalogueSize& size = {});

/// A small one with at most this many bikes, of a looseness that changes with the seed. `seed` is
/// moved on to the one that gave it.
[[nodiscard]] Catalogue generated_small(std::uint64_t& seed, long long most_bikes);

/// The parts that may stand in the slot, in the catalogue's order; null last when it may be empty.
[[nodiscard]] std::vector<const trade::Part*> candidates_for(const Catalogue& catalogue,
                                                             const trade::SlotId& slot);
/// The slots of the build, in the trade's order.
[[nodiscard]] std::vector<const trade::Slot*> slots_of(const Catalogue& catalogue);

/// A random selection: each slot decided with this probability.
[[nodiscard]] Selection random_selection(const Catalogue& catalogue, std::uint64_t seed,
                                         double decided);

}  // namespace rollwright::spec::testing
