#pragma once

#include <vector>

#include "spec/complete.hpp"

namespace rollwright::spec {

/// One choice given up for another part, or for none (empty ids).
struct Change {
  trade::SlotId slot;
  trade::PartId from;
  trade::PartId to;
  friend auto operator<=>(const Change&, const Change&) = default;
};

/// A way to mend: these changes, and nothing else that was chosen, so that a complete bike exists.
struct Repair {
  std::vector<Change> changes;  // in slot order
  Completion bike;              // the cheapest complete bike after them
};

/// The fewest changes of choices that make the selection part of a complete bike again, ranked by
/// their number, then by whether every fact is known, then by price. Each answer changes another
/// set of slots; no answer's set contains another's. Empty `changes` in the only answer: nothing is
/// broken.
///
/// A discontinued part that was chosen counts as chosen as long as `gone_stays` holds; without it
/// such choices have to be changed.
/// Errors: those of `choices`; kRefused when no complete bike exists at all, or when the budget
/// ended first.
struct RepairSettings {
  int most = 3;
  bool gone_stays = true;
  ChoicesSettings search;
};
[[nodiscard]] Result<std::vector<Repair>> repairs(const Problem& problem,
                                                  const Selection& selection,
                                                  const RepairSettings& settings = {});

/// What would open a closed part: the fewest changes of the other choices, ranked as above.
[[nodiscard]] Result<std::vector<Repair>> openings(const Problem& problem,
                                                   const Selection& selection,
                                                   const SlotPart& wanted,
                                                   const RepairSettings& settings = {});

}  // namespace rollwright::spec
