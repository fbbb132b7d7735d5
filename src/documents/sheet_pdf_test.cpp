#include "documents/sheet_pdf.hpp"

#include <gtest/gtest.h>

#include "documents/paper.hpp"

// The sheet in these tests is invented.
namespace rollwright::documents {
namespace {

const Instant kPrinted = parse_instant("2026-11-25T08:00:00Z").value();

trade::Sheet sheet_of(int steps) {
  trade::Sheet sheet{.order = trade::OrderId("2041"), .rider = "Äsa Ørsted", .build = "a bike"};
  sheet.parts = {{.slot = "rear_hub", .position = "rear hub", .part = "HG-1", .name = "Hub gear"}};
  for (int i = 0; i < steps; ++i) {
    trade::SheetStep step{.number = i + 1, .operation = "A-20", .name = "Stem and bar"};
    step.steps = "Set the stem straight and tighten by turns.";
    step.values = {{.name = "faceplate bolts", .stop = true, .strictest = {.source = "printed"},
                    .target_text = "5 N·m", .range_text = "4 to 6 N·m", .us_text = "44 in-lb"}};
    sheet.steps.push_back(step);
  }
  sheet.checks = {{.id = "D3", .list = "pre-delivery", .text = "Steering", .limit = "no play",
                   .mark = "S"}};
  return sheet;
}

int sheets_in(const std::string& pdf) {
  int count = 0;
  for (std::size_t at = pdf.find("/Type /Page %"); at != std::string::npos;
       at = pdf.find("/Type /Page %", at + 1)) {
    ++count;
  }
  return count;
}

TEST(SheetPdf, GivesTheSameBytesForTheSameSheetAndMoment) {
  const SheetPrint print{.shop = "Corner", .invented = true, .printed = kPrinted};
  const auto once = sheet_pdf(sheet_of(3), print);
  ASSERT_TRUE(once);
  EXPECT_TRUE(once->starts_with("%PDF"));
  EXPECT_EQ(*once, sheet_pdf(sheet_of(3), print).value());
}

TEST(SheetPdf, GoesOntoFurtherSheets) {
  const SheetPrint print{.shop = "Corner", .printed = kPrinted};
  EXPECT_GE(sheets_in(sheet_pdf(sheet_of(1), print).value()), 1);
  EXPECT_GT(sheets_in(sheet_pdf(sheet_of(60), print).value()),
            sheets_in(sheet_pdf(sheet_of(20), print).value()));
}

TEST(SheetPdf, PrintsWhatTheBikeDoesAndWhatThatWaitsFor) {
  const SheetPrint without{.shop = "Corner", .printed = kPrinted};
  SheetPrint with = without;
  for (int i = 0; i < 40; ++i) {
    with.does.push_back({.name = "Steepest start", .value = "21 %", .us = "", .note = "as it is",
                         .presets = {"Speed: 25 km/h"}, .questions = {}});
    with.does.push_back({.name = "Lowest gear", .value = "", .us = "", .note = "",
                         .presets = {}, .questions = {"how many teeth has it?"}});
  }
  EXPECT_GT(sheets_in(sheet_pdf(sheet_of(3), with).value()),
            sheets_in(sheet_pdf(sheet_of(3), without).value()));
}

TEST(Paper, WrapsTextIntoItsWidth) {
  Paper paper("t", "f", kPrinted, 0);
  const Paper::Style style{.size = 9};
  const std::string line = "one two three four five six seven eight nine ten eleven twelve";
  EXPECT_GT(paper.height_of(line, 60, style), 3 * paper.height_of("one", 60, style));
  EXPECT_LT(paper.height_of(line, 500, style), 2 * paper.height_of("one", 60, style));
}

TEST(Paper, StartsANewSheetOnlyWhenItMust) {
  Paper paper("t", "f", kPrinted, 0);
  paper.need(10'000);  // nothing written yet: a new sheet would help nobody
  EXPECT_EQ(paper.sheets(), 1);
  paper.down(700);
  paper.need(20);
  EXPECT_EQ(paper.sheets(), 1);
  paper.need(120);
  EXPECT_EQ(paper.sheets(), 2);
}

}  // namespace
}  // namespace rollwright::documents
