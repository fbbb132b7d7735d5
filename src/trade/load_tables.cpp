#include <algorithm>
#include <filesystem>
#include <limits>

#include <fmt/format.h>

#include "base/text.hpp"
#include "trade/meant.hpp"
#include "trade/trade_loading.hpp"

namespace rollwright::trade {
namespace {

constexpr Verdict kVerdicts[] = {Verdict::kFits, Verdict::kFitsWith, Verdict::kFitsWithCare,
                                 Verdict::kNotKnown, Verdict::kDoesNotFit};
const std::vector<std::string>& own_columns() {
  static const std::vector<std::string> kColumns = {"verdict", "note", "adapter", "source"};
  return kColumns;
}

/// "*", "23", "23..32" as a closed range; nothing for a word.
std::optional<std::pair<double, double>> as_range(std::string_view cell) {
  if (cell == "*") return std::pair(-std::numeric_limits<double>::infinity(), std::numeric_limits<double>::infinity());
  const std::size_t dots = cell.find("..");
  const auto low = to_number(cell.substr(0, dots));
  const auto high = dots == std::string_view::npos ? low : to_number(cell.substr(dots + 2));
  if (!low || !high) return std::nullopt;
  return std::pair(*low, *high);
}

/// Reads one table; its columns are known good before its rows are read.
class PairTableReader {
 public:
  PairTableReader(TradeLoading& loading, const Csv& csv) : loading_(loading), csv_(csv) {}

  PairTable read(std::string id) {
    PairTable table{.id = std::move(id)};
    if (!read_columns(table)) return table;
    for (std::size_t i = 0; i < table.columns.size(); ++i) {
      // A column of stars alone says nothing of numbers; it then takes words as well.
      bool some_number = false;
      bool some_word = false;
      for (const CsvRow& row : csv_.rows) {
        some_word = some_word || !as_range(row.cells[i]);
        some_number = some_number || row.cells[i] != "*";
      }
      table.numeric.push_back(some_number && !some_word);
    }
    std::map<std::vector<std::string>, int> first;
    std::vector<std::string> sources;
    for (const CsvRow& row : csv_.rows) {
      read_row(row, table);
      const std::vector<std::string> cells(
          row.cells.begin(), row.cells.begin() + static_cast<long>(table.columns.size()));
      const auto [before, is_new] = first.emplace(cells, row.line);
      if (!is_new) {
        problem(row, table.columns[0], Code::kConflict,
                fmt::format("line {} has the same cells and decides first; keep one of them",
                            before->second));
      }
      const std::string source = own_cell(row, "source");
      if (!source.empty() && std::ranges::count(sources, source) == 0) sources.push_back(source);
    }
    table.source = join(sources, "; ");
    if (csv_.rows.empty()) {
      loading_.problem(Code::kBadInput, "this table has no rows", {.file = csv_.file});
    }
    return table;
  }

 private:
  bool read_columns(PairTable& table) {
    for (const std::string& heading : csv_.headings) {
      if (std::ranges::count(own_columns(), heading) > 0) break;
      table.columns.push_back(heading);
    }
    bool good = true;
    const auto wrong = [&](const std::string& heading, std::string sentence) {
      loading_.problem(Code::kBadInput, std::move(sentence), {.file = csv_.file, .field = heading});
      good = false;
    };
    if (table.columns.empty()) wrong("", "name at least one column before `verdict`");
    if (csv_.column("verdict") < 0) wrong("verdict", "this column is missing");
    for (std::size_t i = table.columns.size(); i < csv_.headings.size(); ++i) {
      const std::string& heading = csv_.headings[i];
      if (std::ranges::count(own_columns(), heading) == 0) {
        wrong(heading,
              "columns to match stand before `verdict`; after it come note, adapter, source");
      }
    }
    return good;
  }

  void read_row(const CsvRow& row, PairTable& table) {
    TableRow read{.line = row.line};
    for (std::size_t i = 0; i < table.columns.size(); ++i) {
      const std::string& cell = row.cells[i];
      const auto range = as_range(cell);
      if (cell.empty()) {
        problem(row, table.columns[i], Code::kBadInput, "this cell is empty; write * for any");
      } else if (table.numeric[i] && range->first > range->second) {
        problem(row, table.columns[i], Code::kContradiction, "this range runs backwards");
      } else if (!table.numeric[i] && cell.find("..") != std::string::npos) {
        problem(row, table.columns[i], Code::kBadInput,
                "other cells of this column are words, so a range cannot match");
      }
      read.cells.emplace_back(cell);
      read.ranges.push_back(table.numeric[i] ? *range : std::pair(-std::numeric_limits<double>::infinity(), std::numeric_limits<double>::infinity()));
    }
    read.verdict = verdict_of(row);
    read.note = own_cell(row, "note");
    read.adapter = own_cell(row, "adapter");
    read.source = own_cell(row, "source");
    check_adapter(row, read);
    table.rows.push_back(std::move(read));
  }

  Verdict verdict_of(const CsvRow& row) {
    const std::string word = own_cell(row, "verdict");
    std::vector<std::string> words;
    for (const Verdict verdict : kVerdicts) {
      if (word_of(verdict) == word) return verdict;
      words.emplace_back(word_of(verdict));
    }
    problem(row, "verdict", Code::kBadInput, "this is no verdict" + meant(word, words));
    return Verdict::kDoesNotFit;
  }

  void check_adapter(const CsvRow& row, const TableRow& read) {
    const bool says_more = !read.note.empty() || !read.adapter.empty();
    if (read.verdict == Verdict::kFitsWith && !says_more) {
      problem(row, "note", Code::kBadInput, "say with what it fits, in `note` or `adapter`");
    }
    if (read.verdict == Verdict::kFitsWithCare && read.note.empty()) {
      problem(row, "note", Code::kBadInput, "say what care is needed");
    }
    if (read.adapter.starts_with("K-") && loading_.is_read("kinds.toml") &&
        !loading_.trade.kinds.contains(KindId(read.adapter))) {
      problem(row, "adapter", Code::kBadInput,
              "no kind of part is called so" + meant(read.adapter, names_in(loading_.trade.kinds)));
    }
  }

  [[nodiscard]] std::string own_cell(const CsvRow& row, std::string_view heading) const {
    const int column = csv_.column(heading);
    return column < 0 ? std::string{} : row.cells[static_cast<std::size_t>(column)];
  }

  void problem(const CsvRow& row, const std::string& heading, Code code, std::string sentence) {
    loading_.problem(
        code, std::move(sentence),
        {.file = csv_.file, .line = row.line, .field = heading, .value = own_cell(row, heading)});
  }

  TradeLoading& loading_;
  const Csv& csv_;
};

}  // namespace

void load_tables(TradeLoading& loading) {
  for (const std::string& file : loading.files_in("tables", ".csv")) {
    std::string id = std::filesystem::path(file).stem().string();
    const std::optional<Csv> csv = loading.csv_file(file);
    if (!csv) {
      loading.unread.insert("tables/" + id);
      continue;
    }
    PairTable table = PairTableReader(loading, *csv).read(id);
    if (table.numeric.empty()) {
      loading.unread.insert("tables/" + id);  // its heading is wrong; rules about it are not judged
      continue;
    }
    loading.trade.tables.emplace(std::move(id), std::move(table));
  }
}

}  // namespace rollwright::trade
