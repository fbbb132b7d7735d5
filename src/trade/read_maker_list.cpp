#include "trade/read_maker_list.hpp"

#include <algorithm>
#include <functional>
#include <set>

#include <fmt/format.h>

#include "base/text.hpp"
#include "trade/csv_row_reader.hpp"
#include "trade/meant.hpp"

namespace rollwright::trade {
namespace {

constexpr std::size_t kMostLines = 300;
constexpr std::size_t kLongestCell = 200;
constexpr int kMostPieces = 999;

/// Where a problem of one line is told: its column, what kind it is, what would be right.
using Tell = std::function<void(const char* field, Code code, std::string sentence)>;

std::vector<SlotId> slots_of(const BuildTemplate& build) {
  std::vector<SlotId> slots = build.required;
  slots.insert(slots.end(), build.optional.begin(), build.optional.end());
  return slots;
}

class ListJudge {
 public:
  explicit ListJudge(const MakerListTerms& terms) : terms_(terms) {
    for (const SlotId& slot : slots_of(terms.build)) positions_.push_back(slot.text);
    for (const std::string& setting : setting_positions()) positions_.push_back(setting);
    positions_.emplace_back(kOtherPosition);
  }

  /// Puts the part to an article, and tells what is wrong with the line.
  void judge(MakerLine& line, const Tell& tell) {
    if (!are_lines_of_text(line, tell)) return;
    if (std::ranges::count(positions_, line.position) == 0) {
      tell("position", Code::kNotFound,
           "this bike has no such position" + meant(line.position, positions_) +
               "; what belongs nowhere else is \"other\"");
      return;
    }
    if (!(1 <= line.quantity && line.quantity <= kMostPieces)) {
      tell("quantity", Code::kOutOfRange, fmt::format("this is from 1 to {} pieces", kMostPieces));
    }
    is_setting(line.position) ? judge_setting(line, tell) : judge_part(line, tell);
    if (!line.serial.empty() && !serials_.insert(line.serial).second) {
      tell("serial", Code::kConflict, "this number is in the list twice; each piece has its own");
    }
  }

 private:
  static bool are_lines_of_text(const MakerLine& line, const Tell& tell) {
    const std::pair<const char*, const std::string*> cells[] = {
        {"part", &line.part.text}, {"article", &line.article}, {"options", &line.options},
        {"serial", &line.serial},  {"note", &line.note}};
    for (const auto& [field, text] : cells) {
      const bool breaks = std::ranges::any_of(
          *text, [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7f; });
      if (!breaks && text->size() <= kLongestCell) continue;
      tell(field, Code::kOutOfRange,
           fmt::format("this is one line of at most {} letters", kLongestCell));
      return false;
    }
    return true;
  }

  void judge_setting(const MakerLine& line, const Tell& tell) {
    if (!line.part.empty()) {
      tell("part", Code::kContradiction,
           fmt::format("{} is how the bike is set up, no part; its value goes under options",
                       line.position));
    }
    if (trim(line.options).empty()) {
      tell("options", Code::kBadInput, fmt::format("say here what {} is", line.position));
    }
    if (!settings_.insert(line.position).second) {
      tell("position", Code::kConflict, "this is in the list twice; keep one line");
    }
  }

  void judge_part(MakerLine& line, const Tell& tell) {
    if (line.part.empty() && trim(line.article).empty()) {
      tell("part", Code::kBadInput,
           "say which part it is: our number under part, or the maker's under article");
      return;
    }
    const auto known = terms_.articles.find(line.article);
    const bool is_known = !line.article.empty() && known != terms_.articles.end();
    if (line.part.empty()) {
      if (is_known) line.part = known->second;
    } else if (is_known && known->second != line.part) {
      tell("article", Code::kContradiction,
           fmt::format("the catalogue has this article as {}, not as {}; keep the one that is "
                       "built in",
                       known->second.text, line.part.text));
      return;
    }
    if (!line.part.empty()) judge_known_part(line, tell);
  }

  void judge_known_part(const MakerLine& line, const Tell& tell) {
    const auto part = terms_.parts.find(line.part);
    if (part == terms_.parts.end()) {
      tell("part", Code::kNotFound,
           "there is no such part in the catalogue" + meant(line.part.text, names_in(terms_.parts)) +
               "; what the catalogue does not have is named by the maker's article alone");
      return;
    }
    if (line.position == kOtherPosition) return;
    const std::vector<KindId> kinds =
        kinds_for(terms_.trade, terms_.build, SlotId(line.position));
    if (std::ranges::count(kinds, part->second->kind) > 0) return;
    tell("part", Code::kContradiction,
         fmt::format("{} cannot be put where the {} goes", part->second->name, line.position));
  }

  const MakerListTerms& terms_;
  std::vector<std::string> positions_;
  std::set<std::string> serials_;
  std::set<std::string> settings_;
};

Error whole_list(const std::string& file, std::string sentence) {
  return {Code::kBadInput, std::move(sentence), {.file = file}};
}

std::string value_in(const MakerLine& line, std::string_view field) {
  if (field == "position") return line.position;
  if (field == "part") return line.part.text;
  if (field == "article") return line.article;
  if (field == "quantity") return std::to_string(line.quantity);
  if (field == "options") return line.options;
  return field == "serial" ? line.serial : line.note;
}

}  // namespace

ReadMakerList read_maker_list(const MakerListTerms& terms, std::string_view text,
                              const std::string& file) {
  ReadMakerList read;
  const Result<Csv> csv = parse_csv(text, file);
  if (!csv) return {.lines = {}, .problems = {csv.error()}};
  const std::vector<std::string> must = {"position", "quantity"};
  const std::vector<std::string> may = {"part", "article", "options", "serial",
                                        "note", "name",    "stop_rules", "has_number"};
  if (!check_headings(*csv, must, may, read.problems)) return read;
  if (csv->rows.empty()) read.problems.push_back(whole_list(file, "this list has no lines"));
  if (csv->rows.size() > kMostLines) {
    read.problems.push_back(
        whole_list(file, fmt::format("a list has at most {} lines", kMostLines)));
    return read;
  }
  ListJudge judge(terms);
  for (const CsvRow& cells : csv->rows) {
    CsvRowReader row(*csv, cells, read.problems);
    MakerLine line{.position = row.text("position"), .part = PartId(row.cell("part")),
                   .article = row.cell("article"), .quantity = 1, .options = row.cell("options"),
                   .serial = row.cell("serial"), .note = row.cell("note")};
    const auto pieces = row.whole("quantity", 1, kMostPieces);
    if (!row.is_good()) continue;
    line.quantity = *pieces;
    judge.judge(line, [&row](const char* field, Code code, std::string sentence) {
      row.problem(field, code, std::move(sentence));
    });
    read.lines.push_back(std::move(line));
  }
  return read;
}

ReadMakerList judge_maker_lines(const MakerListTerms& terms, std::vector<MakerLine> lines) {
  ReadMakerList read{.lines = std::move(lines), .problems = {}};
  if (read.lines.empty() || read.lines.size() > kMostLines) {
    read.problems.push_back({Code::kBadInput,
                             fmt::format("a list has from 1 to {} lines", kMostLines),
                             {.field = "lines"}});
    return read;
  }
  ListJudge judge(terms);
  for (std::size_t i = 0; i < read.lines.size(); ++i) {
    MakerLine& line = read.lines[i];
    judge.judge(line, [&](const char* field, Code code, std::string sentence) {
      read.problems.push_back({code, std::move(sentence),
                               {.field = fmt::format("lines[{}].{}", i, field),
                                .value = value_in(line, field)}});
    });
  }
  return read;
}

}  // namespace rollwright::trade
