#pragma once

#include <span>
#include <string>
#include <vector>

#include "spec/bike.hpp"
#include "spec/evaluate.hpp"
#include "spec/problem.hpp"
#include "trade/trade.hpp"
#include "units/money.hpp"
#include "units/quantity.hpp"

namespace rollwright::spec {

/// A slot and the part in it; an empty part id says that the slot is empty.
struct SlotPart {
  trade::SlotId slot;
  trade::PartId part;
  friend auto operator<=>(const SlotPart&, const SlotPart&) = default;
};

/// Something that a rule has to say about the bike: an adapter, a care, a gap or a clash.
struct Finding {
  std::string rule;  // "C-025 rear"
  trade::Severity severity = trade::Severity::kFit;
  trade::Verdict verdict = trade::Verdict::kFits;  // never kFits
  std::vector<SlotPart> parts;                     // slots that the rule looks at, in slot order
  std::string sentence;
  std::string adapter;
  std::vector<MissingFact> missing_facts;
  std::vector<trade::SlotId> missing_slots;
  std::string source;
};

/// "37 of 52 rules checked, 9 not known, 6 do not apply". The three add up to `rules`.
struct Coverage {
  int rules = 0;
  int checked = 0;
  int not_known = 0;
  int not_applying = 0;

  [[nodiscard]] std::string sentence() const;
};

struct Totals {
  Money price;                // of the parts, each times its slot's quantity
  Mass mass;                  // of those parts whose mass is known
  int masses_not_known = 0;   // filled slots whose part states no mass
  int parts = 0;              // filled slots
};

/// What the rules say of a specification, whole or partial.
struct SpecCheck {
  std::vector<Finding> findings;  // worst verdict first, then severity, then the order of the rules
  std::vector<trade::SlotId> missing_slots;  // required by the build and empty
  /// Worst verdict over all rules. A required slot that is empty does not count here: see
  /// `missing_slots`.
  trade::Verdict verdict = trade::Verdict::kFits;
  bool complete = false;  // every required slot is filled
  Coverage coverage;
  Totals totals;
  std::vector<std::string> adapters;  // lines that the order gets, each once
};

/// What these rules alone have to say, worst first as above.
[[nodiscard]] std::vector<Finding> findings_of(const trade::Trade& trade,
                                               std::span<const trade::Rule* const> rules,
                                               const Bike& bike);

[[nodiscard]] SpecCheck check(const trade::Trade& trade, const trade::BuildTemplate& build,
                              const Bike& bike);

/// The bike that a selection stands for. Errors: kNotFound when a chosen part is not in the
/// catalogue; kContradiction when it is of a kind that does not belong into its slot of this build.
[[nodiscard]] Result<Bike> bike_of(const ProblemInput& input, const Selection& selection);

}  // namespace rollwright::spec
