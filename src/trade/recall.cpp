#include "trade/recall.hpp"

#include <algorithm>
#include <array>

#include "base/text.hpp"

namespace rollwright::trade {
namespace {

struct StatusRow {
  RecallStatus status;
  std::string_view word;
};
constexpr std::array kStatusRows = {
    StatusRow{RecallStatus::kTold, "told"},       StatusRow{RecallStatus::kNoAnswer, "no answer"},
    StatusRow{RecallStatus::kBooked, "booked"},   StatusRow{RecallStatus::kFixed, "fixed"},
    StatusRow{RecallStatus::kRefused, "refused"}, StatusRow{RecallStatus::kSoldOn, "sold on"}};

Certainty in_numbers(const std::string& text, const std::string& from, const std::string& to) {
  if (from.empty() && to.empty()) return Certainty::kCertain;
  if (text.empty()) return Certainty::kPossible;
  const std::string& low = from.empty() ? to : from;
  const std::string& high = to.empty() ? from : to;
  const bool inside = text.size() == low.size() && low <= text && text <= high;
  return inside ? Certainty::kCertain : Certainty::kNot;
}

Certainty in_days(const Recall& recall, const PieceMarks& piece) {
  if (!recall.day_from && !recall.day_to) return Certainty::kCertain;
  const Day from = recall.day_from.value_or(Day::min());
  const Day to = recall.day_to.value_or(Day::max());
  if (piece.came) {
    return from <= *piece.came && *piece.came <= to ? Certainty::kCertain : Certainty::kNot;
  }
  // It had come by the day on which it was bound to a bike.
  return piece.bound && *piece.bound < from ? Certainty::kNot : Certainty::kPossible;
}

}  // namespace

std::string_view word_of(RecallStatus status) {
  return std::ranges::find(kStatusRows, status, &StatusRow::status)->word;
}

std::optional<RecallStatus> recall_status_named(std::string_view word) {
  const auto* found = std::ranges::find(kStatusRows, word, &StatusRow::word);
  return found == kStatusRows.end() ? std::nullopt : std::optional(found->status);
}

std::vector<std::string> all_recall_statuses() {
  std::vector<std::string> words;
  for (const StatusRow& row : kStatusRows) words.emplace_back(row.word);
  return words;
}

bool rider_knows(RecallStatus status) { return status != RecallStatus::kNoAnswer; }

std::string_view word_of(Certainty certainty) {
  switch (certainty) {
    case Certainty::kPossible: return "possible";
    case Certainty::kCertain: return "certain";
    case Certainty::kNot: break;
  }
  return "";
}

Certainty certainty_of(const Recall& recall, const PieceMarks& piece) {
  return std::min({in_numbers(piece.lot, recall.lot_from, recall.lot_to),
                   in_numbers(piece.serial, recall.serial_from, recall.serial_to),
                   in_days(recall, piece)});
}

bool means(const Recall& recall, const Part& part) {
  if (!recall.part.empty()) return part.id == recall.part;
  return part.kind == recall.kind && lowered(part.maker) == lowered(recall.maker);
}

}  // namespace rollwright::trade
