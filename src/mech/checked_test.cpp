#include "mech/trials/checked.hpp"

#include <gtest/gtest-spi.h>
#include <gtest/gtest.h>

#include <cmath>

namespace rollwright::mech::trials {
namespace {

CheckedRow near_miss() {
  return {.row = "2.12 ±1", .of = "a share", .expected = 2, .tolerance = 0.1, .ours = 2.09,
          .source = "none"};
}

TEST(CheckedRow, HoldsWithinItsTolerance) {
  CheckedRow row = near_miss();
  EXPECT_FALSE(problem_of(row));
  row.ours = 2.11;
  ASSERT_TRUE(problem_of(row));
  EXPECT_NE(problem_of(row)->find("2.11"), std::string::npos);
  row.ours = std::nan("");
  EXPECT_TRUE(problem_of(row));
}

TEST(CheckedRow, WithAWhyMustDifferAndBeWhatWasReasoned) {
  CheckedRow row = near_miss();
  row.why = "Another gravity.";
  row.reasoned = 2.2;
  row.reasoned_tolerance = 0.01;
  EXPECT_NE(problem_of(row)->find("stale"), std::string::npos);
  row.ours = 2.2;
  EXPECT_FALSE(problem_of(row));
  row.ours = 2.3;
  EXPECT_NE(problem_of(row)->find("reasoned"), std::string::npos);
  row.ours = 2.2;
  row.reasoned_tolerance = 0;
  EXPECT_TRUE(problem_of(row));
}

TEST(CheckedRow, SaysWhatItIsAndHasANumber) {
  for (const char* number : {"", "2", "2.", "x.3", "2.12±1", "2.1B", "02.1"}) {
    CheckedRow row = near_miss();
    row.row = number;
    EXPECT_TRUE(problem_of(row)) << number;
  }
  CheckedRow row = near_miss();
  row.tolerance = 0;
  EXPECT_TRUE(problem_of(row));
  row = near_miss();
  row.source.clear();
  EXPECT_TRUE(problem_of(row));
  row = near_miss();
  row.of = "two\tthings";
  EXPECT_TRUE(problem_of(row));
}

TEST(CheckSheet, SortsByNumberAndTakesEachOnce) {
  CheckSheet sheet;
  for (const char* number : {"2.10", "2.9 b", "2.9 a", "10.1", "7.7b", "7.7", "7.10"}) {
    CheckedRow row = near_miss();
    row.row = number;
    EXPECT_TRUE(sheet.keep(row));
    EXPECT_FALSE(sheet.keep(row));
  }
  std::string order;
  bool at_start = false;
  for (const char letter : sheet.tsv()) {
    if (letter == '\n') at_start = true;
    else if (letter == '\t') at_start = false;
    if (at_start) order += letter == '\n' ? ',' : letter;
  }
  EXPECT_EQ(order, ",2.9 b,2.9 a,2.10,7.7,7.7b,7.10,10.1,");
}

TEST(CheckedRow, FailsItsTestWhenItDoesNotHold) {
  CheckedRow row = near_miss();
  row.row = "";  // refused altogether, so that no such row is in the table
  EXPECT_NONFATAL_FAILURE(expect_row(row), "number");
}

}  // namespace
}  // namespace rollwright::mech::trials
