#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"

namespace rollwright {

/// One row of a CSV file with the line it starts on (from 1).
struct CsvRow {
  int line = 0;
  std::vector<std::string> cells;
};

/// A CSV file with a heading row.
struct Csv {
  std::string file;
  std::vector<std::string> headings;
  std::vector<CsvRow> rows;  // each with exactly as many cells as there are headings

  /// Column of a heading, or -1.
  [[nodiscard]] int column(std::string_view heading) const;
};

/// Reads comma-separated text as RFC 4180 describes it: quotes, doubled quotes, line breaks inside
/// quotes, CRLF or LF. Also: a byte order mark is skipped, lines that start with # and blank lines
/// are skipped, cells are trimmed unless quoted.
/// Errors: kBadInput naming file and line for an unclosed quote, text after a closing quote, a row
/// with another number of cells than the heading, a repeated heading, bytes that are not UTF-8.
[[nodiscard]] Result<Csv> parse_csv(std::string_view text, std::string file);

/// How a file that was not written for us parts its cells.
struct CsvForm {
  char separator = ',';
  bool comments = true;  // lines that start with # are skipped
};

/// The rows of such a text as they stand, headings among them, each with as many cells as it has;
/// rows without any text are left out. Errors: as parse_csv, each with its line, but rows and
/// headings are not compared.
[[nodiscard]] Result<std::vector<CsvRow>> csv_rows(std::string_view text, const std::string& file,
                                                   CsvForm form = {});

/// One cell, quoted where needed. Cells that a spreadsheet would run as a formula get a leading
/// apostrophe, as is usual practice.
[[nodiscard]] std::string csv_cell(std::string_view text);

}  // namespace rollwright
