#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "trade/bike_record.hpp"
#include "trade/sheet.hpp"

/// How far one bike is, read off its record: what is done, read, open, stopped, and by whom.
namespace rollwright::build {

enum class Standing { kNotYet, kOpen, kRunning, kPaused, kDone, kRedo };
[[nodiscard]] std::string_view word_of(Standing standing);  // "not yet", "open", ...

/// One point of a reading, as last taken since the operation was begun or done again.
struct PointNow {
  std::optional<double> value;
  trade::Outcome outcome = trade::Outcome::kNone;  // kNone: not taken
  trade::PersonId who;
  Instant at = {};
  std::string tool;
  friend bool operator==(const PointNow&, const PointNow&) = default;
};

struct ReadingNow {
  const trade::SheetValue* value = nullptr;
  std::vector<PointNow> points;  // as many as the sheet asks for

  [[nodiscard]] int taken() const;
  [[nodiscard]] bool outside() const;  // a point of it is
  friend bool operator==(const ReadingNow&, const ReadingNow&) = default;
};

struct OperationNow {
  const trade::SheetStep* step = nullptr;
  bool asked = true;                  // of care: a visit asked for it; until then it is done
  Standing standing = Standing::kNotYet;
  std::string because;                // why it is paused, to be done again or cannot begin
  std::vector<std::string> waits_for;  // operations that are not done
  std::vector<trade::PersonId> doers;  // of the work that counts: since it was last done again
  std::vector<trade::PersonId> helpers;  // who lent a hand at it, since then
  std::string no_helper;              // why nobody was needed; empty when nobody said so
  std::vector<ReadingNow> readings;
  std::string fault;                  // not mended yet; empty when there is none
  std::map<std::pair<trade::PersonId, Day>, double> minutes;  // hands on, as started and paused
  std::optional<Instant> running_since;
  trade::PersonId running;

  /// Whether this person did it or lent a hand.
  [[nodiscard]] bool had_hand_in(const trade::PersonId& who) const;
  /// Whether it takes more people at once than are named, and nobody said why not.
  [[nodiscard]] bool lacks_hands() const;
  friend bool operator==(const OperationNow&, const OperationNow&) = default;
};

struct CheckNow {
  const trade::SheetCheck* check = nullptr;
  bool asked = true;    // of care: the visit asks for what it covers, or it covers nothing
  trade::Outcome outcome = trade::Outcome::kNone;
  trade::PersonId who;
  Instant at = {};
  std::string note;
  std::string because;  // why it is open again
  friend bool operator==(const CheckNow&, const CheckNow&) = default;
};

/// A part that is on the bike or in its kit, or was.
struct FittedNow {
  std::string slot;
  trade::PartId part;
  std::string serial;
  std::string lot;
  std::string came_by;
  Instant since = {};
  trade::PersonId who;
  std::optional<Instant> off;
  std::string why_off;
  friend bool operator==(const FittedNow&, const FittedNow&) = default;
};

/// What nobody may wave through.
struct StopNow {
  std::string about;  // operation or check line
  std::string sentence;
  friend bool operator==(const StopNow&, const StopNow&) = default;
};

/// One time that the bike came back.
struct VisitNow {
  std::string about;               // "first service", "repair", "recall R1"
  std::optional<double> km;
  Instant since = {};
  trade::PersonId who;
  std::string note;                // what the rider says
  std::vector<std::string> asked;  // operations
  std::optional<Instant> back;
  trade::PersonId back_by;
  trade::Outcome how = trade::Outcome::kNone;  // stop: it is not to be ridden
  std::string back_note;
  friend bool operator==(const VisitNow&, const VisitNow&) = default;
};

struct BenchState {
  std::vector<OperationNow> operations;  // in the order of the sheet
  std::vector<CheckNow> checks;
  std::vector<FittedNow> parts;          // those taken off too
  /// Wheels that were scanned at the frame, front_wheel or rear_wheel.
  std::map<std::string, std::pair<trade::PersonId, Instant>> paired;
  std::vector<StopNow> stops;
  std::map<std::string, std::pair<trade::PersonId, Instant>> signatures;  // by what is signed
  std::vector<VisitNow> visits;          // in the order in which they were
  int last = 0;                          // number of the last line

  [[nodiscard]] const OperationNow* operation(const std::string& id) const;
  [[nodiscard]] const CheckNow* check(const std::string& id) const;
  /// The part that is in this place now, or null.
  [[nodiscard]] const FittedNow* in_place(const std::string& slot) const;
  /// Whether a part was taken off there, whatever is there now.
  [[nodiscard]] bool was_emptied(const std::string& slot) const;
  /// The visit that is not over, or null: one at a time.
  [[nodiscard]] const VisitNow* open_visit() const;
  friend bool operator==(const BenchState&, const BenchState&) = default;
};

/// Plays the lines over the sheet. What the record says of operations that are not on the sheet (any
/// more) stays in the record and counts for nothing here. Operations that the order names as done
/// (`SheetStep::done`) and the record does not mention are done: they are older than the record.
///
/// What an operation that is done again touches is open again: audits by a second person and work of
/// the test area that came after it, and check lines that cover any of these or the operation. So it is
/// with what a visit asks for. With a visit what was done in the last one is put away; what was left
/// open then is open still.
[[nodiscard]] BenchState bench_state(const trade::Sheet& sheet,
                                     const std::vector<trade::BikeLine>& lines);

/// Plays one more line over what those before it came to: the same as playing all of them anew.
/// `state` is of the same sheet.
void play_on(const trade::Sheet& sheet, const trade::BikeLine& line, BenchState& state);

}  // namespace rollwright::build
