#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/clock.hpp"
#include "shop/part_views.hpp"

/// What is answered about fit: the bike as it is chosen, what can be chosen still and whole bikes.
namespace rollwright::shop {

/// One finding of the fit rules.
struct FindingView {
  std::string rule;      // "C-072"
  std::string severity;  // STOP, FIT, WORK, CLAIM
  std::string verdict;   // in the trade's words
  std::string sentence;
  std::string source;
  std::vector<std::string> slots;
};

struct SlotView {
  std::string slot;
  std::string name;
  bool required = false;
  int quantity = 1;
  std::optional<PartLine> part;
  std::string verdict;        // worst finding that touches this slot; empty when nothing is chosen
  std::string here;           // "in store", "put by", "9 Dec", "not bought", ""
  std::optional<Day> here_on;
  int open = 0;               // parts that can still be chosen with the others
  int of = 0;                 // parts that the catalogue offers for the slot
};

/// What the best complete bikes with the choices come to, each figure by a bike of its own.
struct BestView {
  std::optional<std::int64_t> price_cents;  // of the cheapest
  std::optional<double> mass_kg;            // of the lightest, over the masses that are known
  int masses_not_known = 0;                 // pieces of the lightest
  std::optional<Day> ready;                 // of the soonest
  bool proven = false;                      // nothing better exists
};

struct SpecView {
  std::vector<SlotView> slots;
  std::vector<FindingView> findings;  // everything but plain fits, worst first
  std::vector<std::string> missing;   // names of required slots that are empty
  std::string verdict;                // overall
  int rules_checked = 0;
  int rules_not_known = 0;
  int rules_do_not_apply = 0;
  std::int64_t price_cents = 0;
  double mass_kg = 0;
  int masses_not_known = 0;
  BestView best;         // of the complete bikes with today's choices
  std::string status;    // of the best of them: open, ..., closed; empty when not reckoned
  std::string fitting;   // how many fit with every fact known, in digits; empty when not counted
  std::string possible;  // ... and those of which a fact is not known
  bool count_exact = false;  // false: both are upper bounds
};

struct ChoiceView {
  PartLine part;
  std::string status;  // open, open with adapter, open with care, not known, closed, not proven
  bool chosen = false;
  std::string note;    // the adapter or care, or the most telling sentence when closed
  std::vector<std::string> touches;  // slots that the note is about
  /// Of the best complete bike with this part against the best with today's choices, each figure by
  /// bikes of its own. Empty: there is none, or it is not known.
  std::optional<std::int64_t> price_difference_cents;
  std::optional<double> mass_difference_kg;
  std::optional<int> ready_difference_days;  // calendar days; negative: sooner
  bool proven = false;  // the status and the differences are shown to be right
  std::string here;
};
struct SlotChoicesView {
  std::string order;
  std::string slot;
  std::string name;
  bool may_be_empty = false;
  std::vector<ChoiceView> choices;
};

/// One choice given up for another part, or for none; empty ids and names are no part.
struct ChangeView {
  std::string slot;
  std::string slot_name;
  std::string from;
  std::string from_name;
  std::string to;
  std::string to_name;
};
/// Changes after which a complete bike exists; no part of them would do.
struct RepairView {
  std::vector<ChangeView> changes;
  std::optional<std::int64_t> price_difference_cents;  // of the changed parts alone
  std::optional<double> mass_difference_kg;
  std::string verdict;   // of the cheapest complete bike after them
  std::string sentence;  // "Change the chain: Chain, 11 speeds for Chain, 12 speeds."
};

struct ClashView {
  std::string order;
  std::string slot;
  std::string part;
  std::vector<std::string> choices;    // "rear hub: Hub gear, 8 speeds, 36 holes"
  std::vector<FindingView> rules;      // sentences, most telling first
  std::vector<RepairView> opens;       // the fewest changes that would open the part, best first
};

/// What a whole bike is to be best in.
struct CompletionWish {
  std::string aim = "cheapest";  // cheapest, lightest, soonest, weighted
  double cents_per_kg = 0;       // for weighted: what a kilogram less is worth
  double cents_per_day = 0;      // and a calendar day sooner
};

/// A part for a slot that is not chosen so far.
struct FillView {
  std::string slot;
  std::string slot_name;
  std::string part;
  std::string name;
  std::int64_t price_cents = 0;    // of all pieces of the slot
  std::optional<double> mass_kg;
};
/// A whole bike from the choices so far and the best parts for the slots that are open.
struct CompletionView {
  std::string aim;  // cheapest, lightest, soonest, weighted; between: a trade-off
  std::string sentence;
  std::int64_t price_cents = 0;
  double mass_kg = 0;
  int masses_not_known = 0;
  std::optional<Day> ready;  // empty: some part cannot be had
  std::string verdict;
  bool proven = false;       // nothing better exists
  std::vector<FillView> fills;  // of the slots that are not chosen so far
};

}  // namespace rollwright::shop
