#pragma once

#include <string>
#include <vector>

#include "spec/bests.hpp"
#include "spec/bike.hpp"
#include "spec/check.hpp"
#include "spec/problem.hpp"

namespace rollwright::spec {

/// How far a part is open. Better is smaller; the first four are the verdicts of the best complete
/// bike that contains the part and the choices so far.
enum class Status {
  kOpen,             // a complete bike exists and every rule simply holds
  kOpenWithAdapter,  // ... some rule names an adapter
  kOpenWithCare,     // ... some rule asks for care, or a CLAIM rule fails
  kNotKnown,         // ... but some fact must be measured or asked first
  kClosed,           // no complete bike contains it and the other choices
  kNotProven,        // the search was stopped by its budget before it could tell
};
[[nodiscard]] std::string_view word_of(Status status);  // "open", "open with adapter", ...

struct PartChoice {
  trade::PartId part;  // empty: leave the slot empty
  Status status = Status::kNotProven;
  bool gone = false;   // discontinued; listed only where it is chosen
  /// Of the complete bikes that contain the part and the other choices: those of which every fact
  /// is known, or, when the part is `kNotKnown`, also those with facts that are not. Nothing for a
  /// part that is closed.
  Bests best;
};

struct SlotChoices {
  trade::SlotId slot;
  bool required = false;
  bool chosen = false;            // the selection says something about this slot
  std::vector<PartChoice> parts;  // in the catalogue's order; "leave empty" last
};

/// For every slot and every part: does a complete bike exist that contains it?
///
/// A part in a slot that is undecided is judged together with all choices; a part in a slot that is
/// decided is judged together with the *other* choices, as the part to change to. A discontinued
/// part counts only in a slot for which the selection names it.
struct Choices {
  /// Status of the best complete bike that contains all choices; kClosed: the selection clashes.
  Status selection = Status::kNotProven;
  /// Of the complete bikes that contain all choices, as for a part: what the differences beside
  /// the parts are reckoned against.
  Bests best;
  std::vector<SlotChoices> slots;  // in slot order
  /// When the selection clashes, or is not proven: as few choices as can be left aside so that the
  /// others can be completed (of several such sets, the one with the cheapest bike).
  /// Parts in undecided slots are then judged without them; parts in decided slots also, unless the
  /// other choices can be completed as they stand.
  std::vector<SlotPart> set_aside;
  long long steps = 0;  // that the search took, for measurements
};

struct ChoicesSettings {
  /// Steps of the search for one call. What is not settled by then is kNotProven, never guessed.
  long long most_steps = 300'000;
  /// When each part can be here; without it no ready days are answered.
  const Arrivals* arrivals = nullptr;
};

/// Exact and deterministic; independent of the order of the parts.
/// Errors: kNotFound when the selection names a slot that the build does not have or a part that is
/// not in the catalogue; kContradiction when the part does not belong into that slot.
[[nodiscard]] Result<Choices> choices(const Problem& problem, const Selection& selection,
                                      const ChoicesSettings& settings = {});

}  // namespace rollwright::spec
