#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "spec/bike.hpp"
#include "spec/problem.hpp"
#include "trade/trade.hpp"

namespace rollwright::spec::testing {

/// An invented small trade with a catalogue, for tests that compare engines. All nine rule shapes
/// occur, conditions, optional slots, discontinued parts, facts that are not known.
struct Catalogue {
  trade::Trade trade;
  std::vector<trade::Part> parts;
  trade::Part order;
  trade::Part rider;

  [[nodiscard]] const trade::BuildTemplate& build() const {
    return trade.templates.begin()->second;
  }
  [[nodiscard]] ProblemInput input() const { return {trade, build(), parts, order, rider}; }
};

struct CatalogueSize {
  int least_slots = 3;
  int most_slots = 6;
  int most_parts = 5;  // per slot
  int least_rules = 4;
  int most_rules = 9;
  double not_known = 0.1;    // share of facts
  double looseness = 0.5;    // how easily rules hold, 0 to 1
};
[[nodiscard]] Catalogue generated(std::uint64_t seed, const CatalogueSize& size = {});

/// A random selection: each slot decided with this probability.
[[nodiscard]] Selection random_selection(const Catalogue& catalogue, std::uint64_t seed,
                                         double decided);

/// Every complete bike and what each rule says of it, by plain enumeration with `evaluate`.
class Enumeration {
 public:
  explicit Enumeration(const Catalogue& catalogue);

  struct Row {
    std::vector<trade::PartId> parts;  // by slot of `slots()`; empty id: left empty
    std::vector<trade::Verdict> verdicts;  // by rule
  };
  [[nodiscard]] const std::vector<Row>& rows() const { return rows_; }
  [[nodiscard]] const std::vector<trade::SlotId>& slots() const { return slots_; }

  /// Worst verdict of the best bike that agrees with the selection, kDoesNotFit when there is none.
  /// Discontinued parts count only in slots for which `named` names them. No `rules`: all of them.
  [[nodiscard]] trade::Verdict best(const Selection& selection, const Selection& named,
                                    const std::vector<std::string>* rules = nullptr) const;

 private:
  const Catalogue& catalogue_;
  std::vector<trade::SlotId> slots_;
  std::vector<Row> rows_;
};

}  // namespace rollwright::spec::testing
