#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "spec/bike.hpp"
#include "trade/trade.hpp"

namespace rollwright::spec {

/// The part that fills a slot, or null. The pseudo slots `order` and `rider` answer with parts that
/// carry the order's facts. The slot "*" is never asked; sums over all slots ask each in turn.
using Lookup = std::function<const trade::Part*(const trade::SlotId&)>;

/// A fact that somebody has to measure or ask before the rule can be judged.
struct MissingFact {
  trade::SlotId slot;     // may be `order` or `rider`
  std::string attribute;
  trade::PartId part;     // empty for the pseudo slots
  std::string sentence;   // "steerer, upper diameter of Alder 200 (fork)"
};

/// What one rule says of one bike, whole or partial.
struct Outcome {
  bool applies = false;  // false: the rule has nothing to say; the verdict is then kFits
  trade::Verdict verdict = trade::Verdict::kFits;
  std::string sentence;  // for people, values and names filled in; empty for kFits
  std::string adapter;   // the line that the order gets, for kFitsWith
  std::vector<MissingFact> missing_facts;       // why it is not known
  std::vector<trade::SlotId> missing_slots;     // slots that must be filled and are not (kNeeds)
};

/// The plain meaning of a rule: everything else in this room is checked against it.
///
/// Facts are three-valued, and the outcome is kNotKnown when facts that are not known decide it. A
/// matter that the facts at hand settle is settled (a need that is met, a table row that takes
/// anything), except that a condition that is not known always makes the rule kNotKnown. A failing CLAIM rule is
/// kFitsWithCare, any other failing rule kDoesNotFit. A rule is about filled slots only: it does not
/// apply while a slot it looks at is empty, save those that kNeeds asks for and the terms of a sum
/// (an empty slot adds nothing). A condition on an empty slot does not hold, negated or not; only
/// "*filled" may ask about emptiness. Terms of a sum are never negative, so that a sum that is too
/// great already fails though some terms are not known.
///
/// Numbers compare with a slack of 1e-9 of their size, so that 27.3 is within 0.1 of 27.2.
/// Values that cannot be compared (a word with a number) make it kNotKnown, with a sentence saying
/// so; the trade's loader refuses such rules beforehand.
[[nodiscard]] Outcome evaluate(const trade::Trade& trade, const trade::Rule& rule,
                               const Lookup& lookup);
[[nodiscard]] Outcome evaluate(const trade::Trade& trade, const trade::Rule& rule,
                               const Bike& bike);

}  // namespace rollwright::spec
