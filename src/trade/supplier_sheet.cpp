#include "trade/supplier_sheet.hpp"

#include <algorithm>
#include <map>
#include <set>

#include <fmt/format.h>

#include "base/text.hpp"

namespace rollwright::trade {
namespace {

struct Separator {
  char sign;
  std::string_view word;
};
constexpr Separator kSeparators[] = {{',', "comma"}, {';', "semicolon"}, {'\t', "tab"}};
constexpr std::size_t kSniffedRows = 25;

/// How many cells the first rows have under one separator; quotes count where a cell begins.
std::vector<std::size_t> cells_of_first_rows(std::string_view text, char separator) {
  std::vector<std::size_t> counts;
  std::size_t cells = 1;
  bool quoted = false;
  bool begins = true;
  bool blank = true;
  for (const char c : text) {
    if (c == '"' && (begins || quoted)) {
      quoted = !quoted;
      blank = false;
    } else if (!quoted && c == '\n') {
      if (!blank) counts.push_back(cells);
      if (counts.size() == kSniffedRows) return counts;
      cells = 1;
      blank = begins = true;
      continue;
    } else if (!quoted && c == separator) {
      ++cells;
      blank = false;
      begins = true;
      continue;
    } else if (c != '\r' && c != ' ') {
      blank = false;
    }
    begins = begins && c == ' ';
  }
  if (!blank) counts.push_back(cells);
  return counts;
}

/// The separator under which most rows have as many cells as the heading, then the one with more.
char sniffed(std::string_view text) {
  char best = ',';
  std::pair<double, std::size_t> best_score = {0, 1};
  for (const Separator& separator : kSeparators) {
    const std::vector<std::size_t> counts = cells_of_first_rows(text, separator.sign);
    if (counts.empty() || counts.front() < 2) continue;
    const auto same = static_cast<double>(std::ranges::count(counts, counts.front()));
    const std::pair score = {same / static_cast<double>(counts.size()), counts.front()};
    if (score > best_score) {
      best_score = score;
      best = separator.sign;
    }
  }
  return best;
}

std::vector<std::string> named_once(std::vector<std::string> headings) {
  std::set<std::string> seen;
  for (std::size_t i = 0; i < headings.size(); ++i) {
    if (headings[i].empty()) headings[i] = fmt::format("column {}", i + 1);
    const std::string name = headings[i];
    for (int n = 2; !seen.insert(headings[i]).second; ++n) {
      headings[i] = fmt::format("{} ({})", name, n);
    }
  }
  return headings;
}

}  // namespace

int SupplierSheet::column(std::string_view heading) const {
  const auto found = std::ranges::find(headings, heading);
  return found == headings.end() ? -1 : static_cast<int>(found - headings.begin());
}

std::string SupplierSheet::cell(const CsvRow& row, int column) {
  const auto at = static_cast<std::size_t>(column);
  return column < 0 || at >= row.cells.size() ? std::string() : row.cells[at];
}

std::string_view word_of_separator(char separator) {
  for (const Separator& known : kSeparators) {
    if (known.sign == separator) return known.word;
  }
  broken_promise("every separator has a word", __FILE__, __LINE__);
}

std::optional<char> separator_named(std::string_view word) {
  for (const Separator& known : kSeparators) {
    if (known.word == word) return known.sign;
  }
  return std::nullopt;
}

Result<SupplierSheet> read_supplier_sheet(std::string_view text, std::string file,
                                          std::optional<char> separator) {
  if (text.size() > kMostSheetBytes) {
    return refuse(Code::kTooLarge,
                  fmt::format("the list has {} bytes; at most {} MiB are read, so part it",
                              text.size(), kMostSheetBytes / 1024 / 1024),
                  {.file = file});
  }
  if (const std::size_t nul = text.find('\0'); nul != std::string_view::npos) {
    const auto line = std::ranges::count(text.substr(0, nul), '\n') + 1;
    return refuse(Code::kBadInput,
                  "this line holds a NUL byte: the file is no UTF-8 text; save it as CSV, UTF-8",
                  {.file = file, .line = static_cast<int>(line)});
  }
  SupplierSheet sheet{.file = std::move(file), .separator = separator.value_or(sniffed(text))};
  Result<std::vector<CsvRow>> rows =
      csv_rows(text, sheet.file, {.separator = sheet.separator, .comments = false});
  if (!rows) return std::unexpected(rows.error());
  std::erase_if(*rows, [](const CsvRow& row) {
    return std::ranges::all_of(row.cells, [](const std::string& cell) { return cell.empty(); });
  });
  if (rows->empty()) {
    return refuse(Code::kBadInput, "the list is empty; its first line names the columns",
                  {.file = sheet.file});
  }
  if (rows->front().cells.size() > kMostSheetColumns || rows->size() - 1 > kMostSheetRows) {
    return refuse(Code::kTooLarge,
                  fmt::format("the list has {} columns and {} rows; at most {} and {} are read",
                              rows->front().cells.size(), rows->size() - 1, kMostSheetColumns,
                              kMostSheetRows),
                  {.file = sheet.file, .line = rows->front().line});
  }
  sheet.headings = named_once(std::move(rows->front().cells));
  rows->erase(rows->begin());
  sheet.rows = std::move(*rows);
  return sheet;
}

}  // namespace rollwright::trade
