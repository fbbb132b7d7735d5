#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/csv.hpp"

namespace rollwright::trade {

inline constexpr std::size_t kMostSheetBytes = 6 * 1024 * 1024;
inline constexpr std::size_t kMostSheetRows = 50'000;
inline constexpr std::size_t kMostSheetColumns = 200;

/// A supplier's list as it came: cells as text, columns named as the supplier names them.
struct SupplierSheet {
  std::string file;
  char separator = ',';
  /// Each name once: an empty heading is "column 3", a second "Price" is "Price (2)".
  std::vector<std::string> headings;
  std::vector<CsvRow> rows;  // a row may have more or fewer cells than there are headings

  [[nodiscard]] int column(std::string_view heading) const;
  /// Empty when the row ends before that column.
  [[nodiscard]] static std::string cell(const CsvRow& row, int column);
};

/// "comma", "semicolon" or "tab".
[[nodiscard]] std::string_view word_of_separator(char separator);
[[nodiscard]] std::optional<char> separator_named(std::string_view word);

/// Reads CSV text whose separator is given or, when it is not, the one of comma, semicolon and tab
/// that parts the first rows most evenly. Lines without any text are left out; the first other line
/// names the columns.
/// Errors: kBadInput with the line for bytes that are not UTF-8, for a NUL byte and for quotes that
/// do not close; kTooLarge beyond 6 MiB, 50 000 rows or 200 columns.
[[nodiscard]] Result<SupplierSheet> read_supplier_sheet(std::string_view text, std::string file,
                                                        std::optional<char> separator = {});

}  // namespace rollwright::trade
