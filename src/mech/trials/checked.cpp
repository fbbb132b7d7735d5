#include "mech/trials/checked.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <compare>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <utility>

namespace rollwright::mech::trials {
namespace {

/// "7.7b at 0.14" is section 7, number 7, letters "b".
struct RowNumber {
  int section = 0;
  int number = 0;
  std::string letters;
  auto operator<=>(const RowNumber&) const = default;
};

std::optional<RowNumber> number_of(const std::string& row) {
  RowNumber read;
  const std::string head = row.substr(0, row.find(' '));
  char letters[8] = "";
  const int found =
      std::sscanf(head.c_str(), "%d.%d%7[a-z]", &read.section, &read.number, letters);
  read.letters = letters;
  const std::string again = fmt::format("{}.{}{}", read.section, read.number, read.letters);
  if (found < 2 || again != head) return std::nullopt;
  return read;
}

const char* name_of(Tag tag) {
  switch (tag) {
    case Tag::kFound: return "found";
    case Tag::kFoundDerived: return "found+derived";
    case Tag::kDerived: return "derived";
    case Tag::kMemory: return "memory";
    case Tag::kIdentity: return "identity";
  }
  return "";
}

bool near(double ours, double wanted, double tolerance) {
  return std::fabs(ours - wanted) <= tolerance;
}

std::optional<std::string> unfinished(const CheckedRow& row) {
  if (!number_of(row.row)) return "a number is written as in 2.12, 7.7b or 2.12 ±1";
  if (row.of.empty() || row.source.empty()) return "it says what it is and which source it is from";
  if (!(row.tolerance > 0)) return "a tolerance is over 0";
  if (!std::isfinite(row.ours)) return "ours is not a number";
  const std::string all = row.row + row.of + row.unit + row.source + row.why;
  if (all.find_first_of("\t\n|") == std::string::npos) return std::nullopt;
  return "a text holds a tab, a bar or an end of line";
}

CheckSheet& sheet() {
  static CheckSheet rows;
  return rows;
}

class WritesRows : public testing::Environment {
 public:
  void SetUp() override { sheet().clear(); }  // again before each repetition
  void TearDown() override {
    const char* path = std::getenv("ROLLWRIGHT_CHECK_ROWS");
    if (path == nullptr) return;
    std::ofstream file(path, std::ios::binary);
    file << sheet().tsv();
    file.close();
    EXPECT_TRUE(file) << "check rows cannot be written to " << path;
  }
};
const testing::Environment* const kWritesRows =
    testing::AddGlobalTestEnvironment(new WritesRows);  // owned by the test library

}  // namespace

std::optional<std::string> problem_of(const CheckedRow& row) {
  if (const auto problem = unfinished(row)) return problem;
  const bool inside = near(row.ours, row.expected, row.tolerance);
  const std::string ours = fmt::format("ours {} and the source's {} ± {}", row.ours, row.expected,
                                       row.tolerance);
  if (row.why.empty()) return inside ? std::nullopt : std::optional(ours + " are apart");
  if (inside) return ours + " agree: why they differ is stale";
  if (!(row.reasoned_tolerance > 0)) return "a row with a why states its reasoned value";
  if (near(row.ours, row.reasoned, row.reasoned_tolerance)) return std::nullopt;
  return fmt::format("ours {} is not the reasoned {} ± {}", row.ours, row.reasoned,
                     row.reasoned_tolerance);
}

bool CheckSheet::keep(const CheckedRow& row) {
  const bool taken = std::any_of(rows_.begin(), rows_.end(), [&row](const CheckedRow& other) {
    return other.row == row.row;
  });
  if (!taken) rows_.push_back(row);
  return !taken;
}

std::string CheckSheet::tsv() const {
  std::vector<CheckedRow> rows = rows_;
  std::stable_sort(rows.begin(), rows.end(), [](const CheckedRow& one, const CheckedRow& other) {
    return number_of(one.row).value_or(RowNumber{}) < number_of(other.row).value_or(RowNumber{});
  });
  std::string text = "row\tof\tunit\texpected\ttolerance\tours\ttag\tsource\twhy\n";
  for (const CheckedRow& row : rows) {
    text += fmt::format("{}\t{}\t{}\t{}\t{}\t{}\t{}\t{}\t{}\n", row.row, row.of, row.unit,
                        row.expected, row.tolerance, row.ours, name_of(row.tag), row.source,
                        row.why);
  }
  return text;
}

void expect_row(const CheckedRow& row, const std::source_location& from) {
  const int line = static_cast<int>(from.line());
  if (const auto problem = problem_of(row)) {
    ADD_FAILURE_AT(from.file_name(), line)
        << "row " << row.row << ", " << row.of << ": " << *problem;
    if (unfinished(row)) return;  // no place in the table
  }
  if (!sheet().keep(row)) {
    ADD_FAILURE_AT(from.file_name(), line) << "there is a row " << row.row << " already";
  }
}

void expect_rows(const CheckedRow& shared, const std::vector<CheckedValue>& values,
                 const std::source_location& from) {
  for (const CheckedValue& value : values) {
    CheckedRow row = shared;
    row.row = value.row;
    row.of = value.of;
    row.expected = value.expected;
    row.tolerance = value.tolerance;
    row.ours = value.ours;
    expect_row(row, from);
  }
}

}  // namespace rollwright::mech::trials
