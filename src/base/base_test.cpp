#include <gtest/gtest.h>

#include "base/clock.hpp"
#include "base/csv.hpp"
#include "base/random.hpp"
#include "base/result.hpp"
#include "base/text.hpp"
#include "base/working_days.hpp"

namespace rollwright {
namespace {

TEST(Result, EveryCodeHasOneRowAndAnExitCodeThatIsNotSuccess) {
  for (const CodeRow& row : all_codes()) {
    EXPECT_EQ(&row_of(row.code), &row);
    EXPECT_GT(row.exit_code, 0);
    EXPECT_GE(row.http_status, 400);
    EXPECT_FALSE(row.word.empty());
  }
}

TEST(Error, NamesFileLineFieldAndValue) {
  const Error error{Code::kBadInput, "say a mass.", {"parts.csv", 12, "mass", "abc"}};
  EXPECT_EQ(error.full(), "parts.csv, line 12, field mass, value \"abc\": say a mass.");
}

TEST(Day, ReadsAndWritesIsoAndRefusesTheRest) {
  const Day day = parse_day("2026-11-25").value();
  EXPECT_EQ(iso(day), "2026-11-25");
  EXPECT_EQ(in_words(day, true), "Wednesday 25 November 2026");
  EXPECT_EQ(in_short(day), "25 Nov");
  for (const char* wrong : {"2026-02-30", "2026-1-1", "25.11.2026", "", "2026-11-2x", "-026-11-25"}) {
    EXPECT_FALSE(parse_day(wrong)) << wrong;
  }
  EXPECT_EQ(iso(parse_instant("2026-11-25T08:30:05Z").value()), "2026-11-25T08:30:05Z");
  EXPECT_FALSE(parse_instant("2026-11-25 08:30:05"));
}

TEST(WorkingDays, PassOverWeekendsAndHolidays) {
  const Day friday = parse_day("2026-11-27").value();
  const Day monday = parse_day("2026-11-30").value();
  EXPECT_EQ(add_working_days(friday, 1), monday);
  EXPECT_EQ(add_working_days(monday, -1), friday);
  EXPECT_EQ(add_working_days(friday, 1, {monday}), monday + std::chrono::days(1));
  EXPECT_EQ(working_days_between(friday, monday), 1);
  EXPECT_EQ(working_days_between(monday, friday), -1);
  for (int n = -40; n <= 40; ++n) {
    EXPECT_EQ(working_days_between(friday, add_working_days(friday, n)), n);
  }
}

TEST(Random, RepeatsItselfAndKeepsStreamsApart) {
  Random a(7);
  Random b(7);
  for (int i = 0; i < 100; ++i) EXPECT_EQ(a.bits(), b.bits());
  EXPECT_NE(Random(7).split(1).bits(), Random(7).split(2).bits());
  EXPECT_EQ(Random(7).split(3).bits(), Random(7).split(3).bits());
}

TEST(Random, HasTheMomentsItClaims) {
  Random random(11);
  double sum = 0;
  double squares = 0;
  constexpr int kDraws = 200000;
  for (int i = 0; i < kDraws; ++i) {
    const double x = random.normal();
    sum += x;
    squares += x * x;
  }
  EXPECT_NEAR(sum / kDraws, 0, 0.01);
  EXPECT_NEAR(squares / kDraws, 1, 0.02);
  for (int i = 0; i < 1000; ++i) EXPECT_LT(random.below(7), 7u);
}

TEST(Text, NumbersGoThroughUnchanged) {
  EXPECT_EQ(plain(31.8), "31.8");
  EXPECT_EQ(plain(36), "36");
  EXPECT_EQ(rounded(2.250, 3), "2.25");
  EXPECT_EQ(rounded(-0.001, 1), "0");
  EXPECT_FALSE(to_number("nan"));
  EXPECT_FALSE(to_number("12x"));
  EXPECT_EQ(listed({"a", "b", "c"}), "a, b and c");
  EXPECT_EQ(nearest("steerr", {"steerer", "saddle"}).value(), "steerer");
  EXPECT_FALSE(nearest("zzz", {"steerer", "saddle"}));
}

TEST(Text, KnowsUtf8) {
  EXPECT_TRUE(is_utf8("N·m – ü"));
  EXPECT_TRUE(is_utf8(""));
  EXPECT_FALSE(is_utf8("\xff"));
  EXPECT_FALSE(is_utf8("\xc3"));
  EXPECT_FALSE(is_utf8("\xc0\x80"));
  EXPECT_FALSE(is_utf8("\xed\xa0\x80"));
}

TEST(Csv, ReadsQuotesLineBreaksAndComments) {
  const auto csv = parse_csv("\xef\xbb\xbf# note\na, b\r\n1,\"x, \"\"y\"\"\nz\"\n\n2, plain \n", "f.csv");
  ASSERT_TRUE(csv) << csv.error().full();
  ASSERT_EQ(csv->rows.size(), 2u);
  EXPECT_EQ(csv->rows[0].cells[1], "x, \"y\"\nz");
  EXPECT_EQ(csv->rows[0].line, 3);
  EXPECT_EQ(csv->rows[1].cells[1], "plain");
  EXPECT_EQ(csv->rows[1].line, 6);
}

TEST(Csv, RefusesWithFileAndLine) {
  EXPECT_EQ(parse_csv("a,b\n1\n", "f.csv").error().place.line, 2);
  EXPECT_EQ(parse_csv("a,b\n1,\"x\n", "f.csv").error().place.line, 2);
  EXPECT_EQ(parse_csv("a,b\n1,\"x\"y\n", "f.csv").error().place.line, 2);
  EXPECT_FALSE(parse_csv("a,a\n", "f.csv"));
  EXPECT_FALSE(parse_csv("", "f.csv"));
  EXPECT_FALSE(parse_csv("a\n\xff\n", "f.csv"));
}

TEST(Csv, WritesCellsThatReadBack) {
  EXPECT_EQ(csv_cell("a,b"), "\"a,b\"");
  EXPECT_EQ(csv_cell("say \"x\""), "\"say \"\"x\"\"\"");
  EXPECT_EQ(csv_cell("=1+1"), "'=1+1");
  EXPECT_EQ(csv_cell("-12.5"), "-12.5");
}

}  // namespace
}  // namespace rollwright
