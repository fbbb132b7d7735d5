#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/clock.hpp"
#include "trade/bike_record.hpp"

namespace rollwright::trade {

/// A notice by which somebody calls parts back, as the shop wrote it down. It means one part, or all
/// parts of a kind by one maker; of these the pieces inside its ranges. An empty range leaves nothing
/// out.
struct Recall {
  std::string number;  // of the shop's own: "R1", "R2" ...
  std::string notice;  // who issued it, and their number; may be empty
  PartId part;         // empty: kind and maker say which
  KindId kind;
  std::string maker;
  std::string lot_from, lot_to;
  std::string serial_from, serial_to;
  std::optional<Day> day_from, day_to;  // on which pieces came to the shop
  std::string wrong;   // what is wrong
  bool danger = false;
  std::string remedy;  // empty: not known yet
  PersonId opened_by;
  Day opened = {};
  std::optional<Day> closed;
  std::string closed_by;
  std::string closing_note;

  friend bool operator==(const Recall&, const Recall&) = default;
};

enum class RecallStatus { kTold, kNoAnswer, kBooked, kFixed, kRefused, kSoldOn };
[[nodiscard]] std::string_view word_of(RecallStatus status);  // "told", "no answer", ...
[[nodiscard]] std::optional<RecallStatus> recall_status_named(std::string_view word);
[[nodiscard]] std::vector<std::string> all_recall_statuses();
/// Everything but "no answer": the rider knows.
[[nodiscard]] bool rider_knows(RecallStatus status);

/// What was done about one bike of a recall; further steps are further lines.
struct RecallStep {
  std::string recall;
  OrderId order;
  int number = 1;       // from 1, by recall and bike
  RecallStatus status = RecallStatus::kTold;
  Day day = {};
  PersonId who;
  std::string channel;  // telephone, letter, mail ...; may be empty
  std::string note;

  friend bool operator==(const RecallStep&, const RecallStep&) = default;
};

/// Whether a piece is one of those called back.
enum class Certainty { kNot, kPossible, kCertain };
[[nodiscard]] std::string_view word_of(Certainty certainty);  // "", "possible", "certain"

/// Where a piece comes from, as far as it is written down.
struct PieceMarks {
  std::string serial;
  std::string lot;
  std::optional<Day> came;   // to the shop
  std::optional<Day> bound;  // to a bike: it had come by then
};

/// Holds a piece of a part that the recall means against its ranges. What is outside one of them is
/// not meant, whatever else is not known; else one range that nobody can hold it against makes it
/// possible only. Numbers are compared as text and only with as many characters.
[[nodiscard]] Certainty certainty_of(const Recall& recall, const PieceMarks& piece);

[[nodiscard]] bool means(const Recall& recall, const Part& part);

}  // namespace rollwright::trade
