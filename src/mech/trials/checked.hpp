#pragma once

#include <optional>
#include <source_location>
#include <string>
#include <vector>

namespace rollwright::mech::trials {

/// Where a check value comes from.
enum class Tag {
  kFound,         // read in the source
  kFoundDerived,  // read in the source, and worked out again from its equation
  kDerived,       // worked out by an independent script
  kMemory,        // remembered, not read
  kIdentity,      // true by definition
};

/// One value of the reference tables beside what this room answers.
struct CheckedRow {
  std::string row;       // its number and, where a number gives several values, which: "2.12 ±1"
  std::string of;        // what it is the value of
  std::string unit;      // empty for a bare number
  double expected = 0;   // by the source
  double tolerance = 0;  // either way, over 0
  double ours = 0;
  Tag tag = Tag::kDerived;
  std::string source;    // key in docs/sources.md
  // Only for a value that is not to be reached: one sentence why ours and the source's differ, the
  // value that ours should have instead, and how near it lies. Such a row lies outside the
  // tolerance; when it no longer does, the sentence is stale.
  std::string why;
  double reasoned = 0;
  double reasoned_tolerance = 0;
};

/// What is wrong with a row, as a sentence; nothing when it holds.
[[nodiscard]] std::optional<std::string> problem_of(const CheckedRow& row);

/// Rows with numbers of their own.
class CheckSheet {
 public:
  /// False, and nothing is kept, when a row with that number is there already.
  [[nodiscard]] bool keep(const CheckedRow& row);
  /// Tab-separated with a heading, by section and number, else in the order they were kept.
  [[nodiscard]] std::string tsv() const;
  void clear() { rows_.clear(); }

 private:
  std::vector<CheckedRow> rows_;
};

/// A check in a test: fails it for a row that does not hold or whose number is taken, and remembers
/// the row. At the end of the program all rows go to the file that ROLLWRIGHT_CHECK_ROWS names.
void expect_row(const CheckedRow& row,
                const std::source_location& from = std::source_location::current());

/// What sets one row apart from those beside it.
struct CheckedValue {
  std::string row;
  std::string of;
  double expected = 0;
  double tolerance = 0;
  double ours = 0;
};
/// expect_row for each, with all the rest as in `shared`.
void expect_rows(const CheckedRow& shared, const std::vector<CheckedValue>& values,
                 const std::source_location& from = std::source_location::current());

}  // namespace rollwright::mech::trials
