#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "trade/fact.hpp"
#include "trade/rule.hpp"
#include "trade/spread.hpp"

namespace rollwright::trade {

/// What a clause of a trait asks: of words and flags what a rule's condition does, of a number that it
/// is at least so much.
struct TraitCondition : Condition {
  std::optional<double> at_least;  // own unit of the fact's dimension; then there are no words
};

/// Something true or false of a bike that decides which operations, readings and checks apply:
/// "belt", "mid_motor", "threaded_shell". It holds when any of its clauses holds; a clause holds
/// when all its conditions do.
struct Trait {
  std::string id;
  std::string name;
  std::vector<std::vector<TraitCondition>> any_of;
};

/// When something applies, by traits: all of `all`, at least one of `any` (if there are any), none
/// of `none`.
struct AppliesWhen {
  std::vector<std::string> all;
  std::vector<std::string> any;
  std::vector<std::string> none;
};

struct Caution {
  std::string id;
  std::string sentence;
};

/// One step of building, checking, packing or handing over; or of caring for a bike later.
struct Operation {
  std::string id;  // "W-31"
  std::string name;
  std::string area;                  // "wheel bench"
  std::vector<std::string> after;    // predecessors; bridged when they do not apply
  std::vector<SlotId> fits;          // parts that come onto the bike here
  /// Wheels that hang in the bike once it is done (trade/bike_record.hpp); of several operations of a
  /// bike that hang the same wheel, the last does.
  std::vector<std::string> hangs;
  double minutes_low = 0;            // hands-on, a person who knows the platform
  double minutes_high = 0;
  std::string skill;                 // L1, L2, L3, WB, LE, DG, AD
  AppliesWhen when;
  std::string when_in_words;
  double unattended_minutes = 0;     // runs without a person, but the bike waits
  bool may_pause_overnight = true;   // false: a bleed, a bond
  bool second_person = false;        // not by anyone who did the work it checks
  bool needs_bike_stand = true;
  int hands = 1;                     // people at it at once, from its start to its end: 1 to 4
  AppliesWhen hands_when;            // of which bikes; of others one person does
  std::vector<std::string> tools;
  std::vector<std::string> consumables;
  std::vector<std::string> cautions;  // ids
  std::string steps;                  // what to do, in a few sentences
  std::string file;
  int line = 0;
};

/// A value to set or read during an operation, with its limits. Several limits may apply (law,
/// part, frame maker, standard, house, common practice); the strictest wins and is named.
struct Reading {
  std::string id;  // "stem_steerer_bolts"
  std::vector<std::string> operations;
  std::string name;
  Dimension dimension = Dimension::kNone;
  std::string unit;  // empty for a plain pass or fail
  std::optional<double> least;  // in the dimension's own unit
  std::optional<double> most;
  std::optional<double> target;
  bool pass_or_fail = false;
  bool stop = false;                   // outside the limits the bike may not go on
  std::optional<double> stop_above;    // when the stop limit is wider than the pass limit
  std::optional<double> stop_below;
  std::vector<Operand> part_limits_most;   // facts of parts that lower `most`
  std::vector<Operand> part_limits_least;  // facts of parts that raise `least`
  std::vector<Operand> part_targets;       // printed values that replace the range
  std::string compute;                 // calculation that gives the target, or empty
  int count = 1;                       // how many are taken (4 crank positions)
  AppliesWhen when;
  std::string source;  // "common practice", "maker", "ISO 4210"
  std::string file;
  int line = 0;
};

enum class CheckMark { kStop, kMust, kNote };  // S, M, N

struct CheckLine {
  std::string id;    // "D3"
  std::string list;  // arrival, final build, pre-delivery, handover, care
  std::string text;
  std::string limit;
  CheckMark mark = CheckMark::kMust;
  std::vector<std::string> covers;  // operations whose work it proves: done again, it is open again
  AppliesWhen when;
};

/// Lines of this list are for bikes that come back, and stand on no other bike's sheet.
inline constexpr std::string_view kCareList = "care";

}  // namespace rollwright::trade
