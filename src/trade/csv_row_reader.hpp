#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/clock.hpp"
#include "base/csv.hpp"
#include "units/money.hpp"

namespace rollwright::trade {

/// Refuses columns that are missing or not known. False when a needed one is missing: the rows
/// cannot be judged then.
[[nodiscard]] bool check_headings(const Csv& csv, const std::vector<std::string>& must,
                                  const std::vector<std::string>& may, Problems& problems);

/// Reads the cells of one row and notes every problem. A column that is not there reads as empty.
///
/// Threads: one. File, row and list of problems must outlive the reader.
class CsvRowReader {
 public:
  CsvRowReader(const Csv& csv, const CsvRow& row, Problems& problems)
      : csv_(csv), row_(row), problems_(problems) {}

  [[nodiscard]] std::string cell(std::string_view heading) const;
  [[nodiscard]] int line() const { return row_.line; }

  /// These note a problem for an empty cell; the `_or_none` ones do not.
  std::string text(std::string_view heading);
  std::optional<int> whole(std::string_view heading, int least, int most);
  std::optional<Day> day(std::string_view heading);
  std::optional<Money> money(std::string_view heading);
  std::optional<Day> day_or_none(std::string_view heading);
  std::optional<int> whole_or_none(std::string_view heading, int least, int most);
  /// yes, no or empty (no).
  bool flag(std::string_view heading);
  /// One of the words; `fallback` when the cell is empty; "" after a problem.
  std::string word(std::string_view heading, const std::vector<std::string>& words,
                   std::string_view fallback);

  void problem(std::string_view heading, Code code, std::string sentence);
  /// Whether nothing was noted since this reader was made.
  [[nodiscard]] bool is_good() const { return good_; }

 private:
  const Csv& csv_;
  const CsvRow& row_;
  Problems& problems_;
  bool good_ = true;
};

}  // namespace rollwright::trade
