#include "base/csv.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"

namespace rollwright {
namespace {

/// Walks over the text once; knows the line it is on.
class Reader {
 public:
  Reader(std::string_view text, const std::string& file, char separator)
      : text_(text), file_(file), separator_(separator) {}

  [[nodiscard]] bool at_end() const { return at_ >= text_.size(); }

  Result<CsvRow> row() {
    CsvRow row{.line = line_, .cells = {}};
    while (true) {
      Result<std::string> cell = text_at() == '"' ? quoted() : bare();
      if (!cell) {
        Error error = cell.error();
        error.place.field = fmt::format("column {}", row.cells.size() + 1);
        return std::unexpected(std::move(error));
      }
      row.cells.push_back(std::move(*cell));
      if (text_at() != separator_ || at_end()) break;
      ++at_;
      while (text_at() == ' ') ++at_;
    }
    if (text_at() == '\r') ++at_;
    if (text_at() == '\n') {
      ++at_;
      ++line_;
    }
    return row;
  }

 private:
  [[nodiscard]] char text_at() const { return at_ < text_.size() ? text_[at_] : '\0'; }

  Result<std::string> bare() {
    const char stops[] = {separator_, '\n'};
    const std::size_t end = std::min(text_.find_first_of({stops, 2}, at_), text_.size());
    std::string cell(trim(text_.substr(at_, end - at_)));
    at_ = end;
    return cell;
  }

  Result<std::string> quoted() {
    const int opened = line_;
    std::string cell;
    ++at_;
    while (true) {
      if (at_end()) {
        return refuse(Code::kBadInput, "a quoted cell is not closed; end it with \"",
                      {.file = file_, .line = opened});
      }
      const char c = text_[at_++];
      if (c == '\n') ++line_;
      if (c != '"') {
        cell += c;
      } else if (text_at() == '"') {
        cell += '"';
        ++at_;
      } else {
        break;
      }
    }
    while (text_at() == ' ' || (text_at() == '\t' && separator_ != '\t')) ++at_;
    if (!at_end() && text_at() != separator_ && text_at() != '\n' && text_at() != '\r') {
      return refuse(Code::kBadInput,
                    fmt::format("text follows the closing quote of a cell; put a {} there",
                                separator_ == ',' ? "comma" : "separator"),
                    {.file = file_, .line = line_});
    }
    return cell;
  }

  std::string_view text_;
  const std::string& file_;
  char separator_;
  std::size_t at_ = 0;
  int line_ = 1;
};

bool is_blank(const CsvRow& row) { return row.cells.size() == 1 && row.cells[0].empty(); }

/// Line of the first bytes that are not UTF-8.
int first_bad_line(std::string_view text) {
  int line = 1;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    if (!is_utf8(text.substr(0, end))) return line;
    text.remove_prefix(std::min(end + 1, text.size()));
    ++line;
  }
  return 0;
}

}  // namespace

int Csv::column(std::string_view heading) const {
  const auto found = std::find(headings.begin(), headings.end(), heading);
  return found == headings.end() ? -1 : static_cast<int>(found - headings.begin());
}

Result<std::vector<CsvRow>> csv_rows(std::string_view text, const std::string& file,
                                     CsvForm form) {
  if (!is_utf8(text)) {
    return refuse(Code::kBadInput, "the file is not UTF-8 text; save it as UTF-8",
                  {.file = file, .line = first_bad_line(text)});
  }
  if (text.starts_with("\xef\xbb\xbf")) text.remove_prefix(3);
  Reader reader(text, file, form.separator);
  std::vector<CsvRow> rows;
  while (!reader.at_end()) {
    Result<CsvRow> row = reader.row();
    if (!row) return std::unexpected(row.error());
    if (is_blank(*row) || (form.comments && row->cells[0].starts_with('#'))) continue;
    rows.push_back(std::move(*row));
  }
  return rows;
}

Result<Csv> parse_csv(std::string_view text, std::string file) {
  Csv csv{.file = std::move(file), .headings = {}, .rows = {}};
  Result<std::vector<CsvRow>> rows = csv_rows(text, csv.file);
  if (!rows) return std::unexpected(rows.error());
  for (CsvRow& row : *rows) {
    if (csv.headings.empty()) {
      csv.headings = row.cells;
      for (std::size_t i = 0; i < csv.headings.size(); ++i) {
        if (csv.column(csv.headings[i]) != static_cast<int>(i)) {
          return refuse(Code::kBadInput, "this heading is there twice",
                        {.file = csv.file, .line = row.line, .value = csv.headings[i]});
        }
      }
      continue;
    }
    if (row.cells.size() != csv.headings.size()) {
      return refuse(Code::kBadInput,
                    fmt::format("this row has {} cells, the heading has {}", row.cells.size(),
                                csv.headings.size()),
                    {.file = csv.file, .line = row.line});
    }
    csv.rows.push_back(std::move(row));
  }
  if (csv.headings.empty()) {
    return refuse(Code::kBadInput, "the file is empty; its first line names the columns",
                  {.file = csv.file});
  }
  return csv;
}

std::string csv_cell(std::string_view text) {
  std::string cell(text);
  if (!cell.empty() && std::string_view("=+-@").find(cell[0]) != std::string_view::npos &&
      !to_number(cell)) {
    cell.insert(0, "'");
  }
  if (cell.find_first_of(",\"\n\r") == std::string::npos && trim(cell) == cell) return cell;
  std::string quoted = "\"";
  for (const char c : cell) {
    if (c == '"') quoted += '"';
    quoted += c;
  }
  return quoted + '"';
}

}  // namespace rollwright
