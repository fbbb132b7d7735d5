#include "supply/goods_in.hpp"

#include <fmt/format.h>

namespace rollwright::supply {
namespace {

/// Where pieces come from and go to. `kOutside` is the road, the supplier, the books.
enum class Place { kOutside, kToLookAt, kAccepted, kQuarantine, kSentBack, kWrittenOff, kAgain };
struct StepRow {
  Step step;
  std::string_view word;
  Place from;
  Place to;
};
constexpr StepRow kSteps[] = {
    {Step::kUnload, "unload", Place::kOutside, Place::kToLookAt},
    {Step::kAccept, "accept", Place::kToLookAt, Place::kAccepted},
    {Step::kQuarantine, "quarantine", Place::kToLookAt, Place::kQuarantine},
    {Step::kRelease, "release", Place::kQuarantine, Place::kAccepted},
    {Step::kSendBack, "send back", Place::kQuarantine, Place::kSentBack},
    {Step::kSendAgain, "send again", Place::kSentBack, Place::kAgain},
    {Step::kWriteOff, "write off", Place::kOutside, Place::kWrittenOff},
    {Step::kStillComes, "still comes", Place::kWrittenOff, Place::kOutside},
    {Step::kFindBad, "find bad", Place::kAccepted, Place::kQuarantine},
};

const StepRow& step_row(Step step) {
  for (const StepRow& row : kSteps) {
    if (row.step == step) return row;
  }
  broken_promise("every step has a row", __FILE__, __LINE__);
}

/// Pieces that a step could be taken with.
int waiting_at(const GoodsIn& line, Place place) {
  switch (place) {
    case Place::kOutside: return line.outstanding();
    case Place::kToLookAt: return line.to_look_at;
    case Place::kQuarantine: return line.quarantined;
    case Place::kSentBack: return line.sent_back - line.again;
    case Place::kAccepted: return line.accepted;
    case Place::kWrittenOff: return line.written_off;
    case Place::kAgain: return 0;
  }
  return 0;
}

void move(GoodsIn& line, const StepRow& row, int pieces) {
  if (row.from == Place::kToLookAt) line.to_look_at -= pieces;
  if (row.from == Place::kQuarantine) line.quarantined -= pieces;
  if (row.from == Place::kAccepted) line.accepted -= pieces;
  if (row.from == Place::kWrittenOff) line.written_off -= pieces;
  if (row.to == Place::kToLookAt) line.to_look_at += pieces;
  if (row.to == Place::kAccepted) line.accepted += pieces;
  if (row.to == Place::kQuarantine) line.quarantined += pieces;
  if (row.to == Place::kSentBack) line.sent_back += pieces;
  if (row.to == Place::kWrittenOff) line.written_off += pieces;
  if (row.to == Place::kAgain) line.again += pieces;
}

}  // namespace

std::string_view word_of(Step step) { return step_row(step).word; }

std::optional<Step> step_named(std::string_view word) {
  for (const StepRow& row : kSteps) {
    if (row.word == word) return row.step;
  }
  return std::nullopt;
}

std::vector<std::string> all_steps() {
  std::vector<std::string> words;
  for (const StepRow& row : kSteps) words.emplace_back(row.word);
  return words;
}

std::string_view word_of(const GoodsIn& line) {
  if (line.to_look_at > 0) return "to look at";
  if (line.quarantined > 0) return "quarantined";
  if (line.outstanding() > 0) return line.accepted > 0 ? "part here" : "expected";
  return line.accepted == line.ordered ? "accepted" : "settled";
}

Result<GoodsIn> after(const GoodsIn& line, Step step, int pieces, Day day) {
  const StepRow& row = step_row(step);
  if (pieces < 1) {
    return refuse(Code::kOutOfRange,
                  fmt::format("at least one piece takes a step, not {}", pieces),
                  {.field = "pieces", .value = std::to_string(pieces)});
  }
  const int waiting = waiting_at(line, row.from);
  if (pieces > waiting) {
    return refuse(Code::kRefused,
                  fmt::format("there are {} pieces to {} here, not {}", waiting, row.word, pieces),
                  {.field = "pieces", .value = std::to_string(pieces)});
  }
  GoodsIn next = line;
  move(next, row, pieces);
  if (step == Step::kUnload && !next.first_arrival) next.first_arrival = day;
  return next;
}

Result<ClaimClock> claim_clock(const std::vector<ClaimWindow>& windows,
                               const std::map<Trouble, int>& of_supplier, Trouble trouble,
                               std::string_view carrier, Day arrived) {
  const auto own = of_supplier.find(trouble);
  if (own != of_supplier.end()) {
    return ClaimClock{.tell_by = arrived + std::chrono::days(own->second),
                      .terms = fmt::format("the supplier's terms: {} {}", own->second,
                                           own->second == 1 ? "day" : "days")};
  }
  const ClaimWindow* found = nullptr;
  for (const ClaimWindow& window : windows) {
    if (window.trouble != trouble) continue;
    if (window.carrier == carrier) found = &window;
    if (window.carrier == "any" && found == nullptr) found = &window;
  }
  if (found == nullptr) {
    return refuse(Code::kNotFound,
                  fmt::format("no days are on file within which \"{}\" is claimed from a carrier "
                              "by {}; ask the carrier today",
                              word_of(trouble), carrier));
  }
  return ClaimClock{.tell_by = arrived + std::chrono::days(found->days), .terms = found->source};
}

Result<Day> claim_by(const std::vector<ClaimWindow>& windows, Trouble trouble,
                     std::string_view carrier, Day arrived) {
  const Result<ClaimClock> clock = claim_clock(windows, {}, trouble, carrier, arrived);
  if (!clock) return std::unexpected(clock.error());
  return clock->tell_by;
}

}  // namespace rollwright::supply
