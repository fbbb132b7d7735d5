#include "supply/goods_in.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/csv.hpp"
#include "base/text.hpp"

namespace rollwright::supply {
namespace {

struct TroubleRow {
  Trouble trouble;
  std::string_view word;
};
constexpr TroubleRow kTroubles[] = {{Trouble::kShort, "short"},
                                    {Trouble::kWrong, "wrong"},
                                    {Trouble::kDamageSeen, "damage seen"},
                                    {Trouble::kDamageHidden, "damage hidden"},
                                    {Trouble::kLate, "late"}};
constexpr std::string_view kCarriers[] = {"any", "parcel", "road", "rail", "sea", "air"};

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
    case Place::kAccepted:
    case Place::kWrittenOff:
    case Place::kAgain: return 0;
  }
  return 0;
}

void move(GoodsIn& line, const StepRow& row, int pieces) {
  if (row.from == Place::kToLookAt) line.to_look_at -= pieces;
  if (row.from == Place::kQuarantine) line.quarantined -= pieces;
  if (row.to == Place::kToLookAt) line.to_look_at += pieces;
  if (row.to == Place::kAccepted) line.accepted += pieces;
  if (row.to == Place::kQuarantine) line.quarantined += pieces;
  if (row.to == Place::kSentBack) line.sent_back += pieces;
  if (row.to == Place::kWrittenOff) line.written_off += pieces;
  if (row.to == Place::kAgain) line.again += pieces;
}

class WindowReader {
 public:
  WindowReader(const Csv& csv, const CsvRow& row) : csv_(csv), row_(row) {}

  Result<ClaimWindow> read() const {
    ClaimWindow window{.carrier = cell("carrier"), .source = cell("source")};
    const auto trouble = std::ranges::find(kTroubles, cell("trouble"), &TroubleRow::word);
    if (trouble == std::end(kTroubles)) {
      return wrong("trouble", "this is short, wrong, damage seen, damage hidden or late");
    }
    window.trouble = trouble->trouble;
    if (std::ranges::find(kCarriers, window.carrier) == std::end(kCarriers)) {
      return wrong("carrier", "this is any, parcel, road, rail, sea or air");
    }
    const std::optional<double> days = to_number(cell("days"));
    if (!days || !(0 <= *days && *days <= 365) || *days != static_cast<int>(*days)) {
      return wrong("days", "this is a whole number of days from 0 to 365");
    }
    window.days = static_cast<int>(*days);
    if (window.source.empty()) return wrong("source", "say where these days come from");
    return window;
  }

 private:
  const std::string& cell(std::string_view heading) const {
    return row_.cells[static_cast<std::size_t>(csv_.column(heading))];
  }
  Result<ClaimWindow> wrong(std::string_view field, std::string sentence) const {
    return refuse(Code::kBadInput, std::move(sentence),
                  {.file = csv_.file, .line = row_.line, .field = std::string(field),
                   .value = cell(field)});
  }

  const Csv& csv_;
  const CsvRow& row_;
};

}  // namespace

std::string_view word_of(Trouble trouble) {
  for (const TroubleRow& row : kTroubles) {
    if (row.trouble == trouble) return row.word;
  }
  broken_promise("every trouble has a word", __FILE__, __LINE__);
}

std::string_view word_of(Step step) { return step_row(step).word; }

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

Result<std::vector<ClaimWindow>> read_claim_windows(std::string_view csv, std::string file) {
  const Result<Csv> read = parse_csv(csv, std::move(file));
  if (!read) return std::unexpected(read.error());
  for (const std::string_view heading : {"trouble", "carrier", "days", "source"}) {
    if (read->column(heading) >= 0) continue;
    return refuse(Code::kBadInput, "this column is missing",
                  {.file = read->file, .field = std::string(heading)});
  }
  std::vector<ClaimWindow> windows;
  for (const CsvRow& row : read->rows) {
    Result<ClaimWindow> window = WindowReader(*read, row).read();
    if (!window) return std::unexpected(window.error());
    windows.push_back(std::move(*window));
  }
  return windows;
}

Result<Day> claim_by(const std::vector<ClaimWindow>& windows, Trouble trouble,
                     std::string_view carrier, Day arrived) {
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
  return arrived + std::chrono::days(found->days);
}

}  // namespace rollwright::supply
