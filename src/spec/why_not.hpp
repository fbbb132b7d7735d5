#pragma once

#include <string>
#include <vector>

#include "spec/bike.hpp"
#include "spec/check.hpp"
#include "spec/choices.hpp"
#include "spec/problem.hpp"

namespace rollwright::spec {

/// A rule that takes part in a clash, told for people.
struct ClashRule {
  std::string rule;  // "C-025 rear"
  trade::Severity severity = trade::Severity::kFit;
  std::vector<trade::SlotId> slots;  // that the rule looks at
  /// With the values of the parts at hand. Where a slot is undecided, the values that are on offer
  /// stand in their place ("28.6 mm or 31.8 mm").
  std::string sentence;
  bool determined = false;  // every slot the rule looks at is filled by the part or a choice
  std::string source;
};

/// An irreducible reason why a part is closed: the part, these choices and these rules cannot hold
/// together in any complete bike, and without any one of them they could.
struct Clash {
  std::vector<SlotPart> choices;
  std::vector<ClashRule> rules;  // most telling first
  /// Required slots that no part in the catalogue can fill at all; then nothing else is to blame.
  std::vector<trade::SlotId> nothing_for;
  /// False when these choices and rules clash among themselves already, whatever the part.
  bool part_matters = true;
  bool irreducible = true;  // false when the budget ended before every member was shown to matter
};

struct WhyNot {
  trade::SlotId slot;
  trade::PartId part;  // empty: leaving the slot empty
  /// Explains why no complete bike is at most this: kNotKnown explains "closed", kFits explains
  /// why it is not simply open.
  trade::Verdict at_most = trade::Verdict::kNotKnown;
};

/// Errors: those of `choices`; kRefused when the part is not closed at that level at all, or when
/// the budget ended before that could be told.
[[nodiscard]] Result<Clash> why_not(const Problem& problem, const Selection& selection,
                                    const WhyNot& question, const ChoicesSettings& settings = {});

/// Why the selection itself clashes. Same errors.
[[nodiscard]] Result<Clash> why_selection_clashes(const Problem& problem,
                                                  const Selection& selection,
                                                  const ChoicesSettings& settings = {});

}  // namespace rollwright::spec
