#include "documents/labels.hpp"

#include <gtest/gtest.h>

#include "base/random.hpp"
#include "trade/label_code.hpp"
#include "trade/load_trade.hpp"

// The labels in these tests are invented. That printed codes are read by a scanner's software is
// tested in tests/labels.test.mjs.
namespace rollwright::documents {
namespace {

const Instant kLabelsPrinted = parse_instant("2026-11-25T08:00:00Z").value();

const std::vector<trade::LabelSheet>& sheets() {
  static const trade::LoadedTrade kLoaded = trade::load_trade(ROLLWRIGHT_ROOT "/data/trade");
  return kLoaded.trade.label_sheets;
}

Label label_of(const std::string& number, std::vector<std::string> lines = {"a bike"}) {
  return {.code = trade::write_label_code(
              {.kind = trade::LabelKind::kOrder, .id = number, .wheel = ""}),
          .what = "Order", .number = number, .lines = std::move(lines)};
}

Result<LabelLayout> laid_out(const trade::LabelSheet& sheet, const Label& label) {
  const auto layouts =
      layouts_of({label}, {.sheet = &sheet, .from = 1, .printed = kLabelsPrinted});
  if (!layouts) return std::unexpected(layouts.error());
  return layouts->front();
}

/// The label's own box on the page, at position 1.
LabelInk::Box first_label(const trade::LabelSheet& sheet) {
  return {.x = sheet.left_mm, .y = sheet.top_mm, .width = sheet.label_width_mm,
          .height = sheet.label_height_mm};
}

bool overlap(const LabelInk::Box& a, const LabelInk::Box& b) {
  return a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height &&
         b.y < a.y + a.height;
}

LabelInk::Box box_of_code(const LabelLayout& layout) {
  const double quiet = QrCode::kQuietZone * layout.module;
  const double side = layout.code.modules_with_quiet_zone() * layout.module;
  return {.x = layout.x - quiet, .y = layout.y - quiet, .width = side, .height = side};
}

/// Everything lies on the label, clear of the code's quiet zone and of the printer's white edge, and
/// texts do not lie over each other.
void expect_sound(const trade::LabelSheet& sheet, const LabelLayout& layout) {
  constexpr double kRound = 0.06;
  EXPECT_GE(layout.module, LabelLayout::kLeastModule) << sheet.id;
  LabelInk::Box inside = inside_of_label(sheet);
  const LabelInk::Box label = first_label(sheet);
  inside.x += label.x;
  inside.y += label.y;
  EXPECT_GE(inside.x, sheet.edge_mm) << sheet.id;
  EXPECT_GE(inside.y, sheet.edge_mm) << sheet.id;
  std::vector<LabelInk::Box> boxes = {box_of_code(layout)};
  for (const LabelLayout::Text& text : layout.texts) boxes.push_back(text.box);
  for (std::size_t i = 0; i < boxes.size(); ++i) {
    const LabelInk::Box& box = boxes[i];
    EXPECT_GE(box.x, inside.x - kRound) << sheet.id << " " << i;
    EXPECT_GE(box.y, inside.y - kRound) << sheet.id << " " << i;
    EXPECT_LE(box.x + box.width, inside.x + inside.width + kRound) << sheet.id << " " << i;
    EXPECT_LE(box.y + box.height, inside.y + inside.height + kRound) << sheet.id << " " << i;
    for (std::size_t k = 0; k < i; ++k) {
      LabelInk::Box less = box;
      less.height -= 2 * kRound;
      less.y += kRound;
      EXPECT_FALSE(overlap(less, boxes[k])) << sheet.id << " " << i << " over " << k;
    }
  }
}

TEST(Labels, LieSoundOnEverySheetAndRoll) {
  for (const trade::LabelSheet& sheet : sheets()) {
    for (const std::string number : {"1", "2041", "HB-0412", "DERAILLEUR-11-LONG-CAGE"}) {
      const auto layout = laid_out(sheet, label_of(number));
      ASSERT_TRUE(layout) << sheet.id << " " << number << ": " << layout.error().full();
      expect_sound(sheet, *layout);
      EXPECT_TRUE(layout->is_whole) << sheet.id << " " << number;
    }
  }
}

TEST(Labels, AnyTextEitherLiesSoundOrIsRefusedInASentence) {
  Random random(17);
  for (int trial = 0; trial < 60; ++trial) {
    std::string number;
    for (std::uint64_t i = 0; i < 1 + random.below(60); ++i) {
      number += "ABW-10 "[random.below(7)];
    }
    std::string line;
    for (std::uint64_t i = 0; i < random.below(300); ++i) line += "some words é"[random.below(11)];
    for (const trade::LabelSheet& sheet : sheets()) {
      const auto layout = laid_out(sheet, label_of("X" + number, {line, line}));
      if (layout) {
        expect_sound(sheet, *layout);
      } else {
        EXPECT_EQ(layout.error().code, Code::kOutOfRange);
        EXPECT_NE(layout.error().sentence.find("take a larger one"), std::string::npos);
      }
    }
  }
}

TEST(Labels, TheNumberOfAnOrderIsReadFromAfarWhereTheLabelIsLargeEnough) {
  for (const trade::LabelSheet& sheet : sheets()) {
    const auto layout = laid_out(sheet, label_of("2041"));
    ASSERT_TRUE(layout);
    if (sheet.label_width_mm >= 57 && sheet.label_height_mm >= 29) {
      EXPECT_GE(layout->figures_mm, LabelLayout::kFarFigures) << sheet.id;
    }
  }
}

TEST(Labels, ALineThatIsTooLongIsSaidNotToBeWhole) {
  const trade::LabelSheet* small = trade::find_label_sheet(sheets(), "a4-5x13");
  ASSERT_NE(small, nullptr);
  std::string line;
  for (int i = 0; i < 40; ++i) line += "very long ";
  EXPECT_FALSE(laid_out(*small, label_of("2041", {line})).value().is_whole);
  EXPECT_TRUE(laid_out(*small, label_of("2041", {"city bike"})).value().is_whole);
}

TEST(Labels, ACodeThatDoesNotGoOntoTheLabelIsRefused) {
  const trade::LabelSheet* small = trade::find_label_sheet(sheets(), "a4-5x13");
  ASSERT_NE(small, nullptr);
  const auto layout = laid_out(*small, label_of(std::string(180, 'W')));
  ASSERT_FALSE(layout);
  EXPECT_EQ(layout.error().code, Code::kOutOfRange);
}

/// ISO/IEC 18004 (from memory): the first two bits of the format, in row 8, after the mask 10; L is
/// 01, M 00, Q 11, H 10.
std::string level_in(const QrCode& code) {
  const bool first = !code.is_dark(8, 0);
  const bool second = code.is_dark(8, 1);
  return first ? (second ? "Q" : "H") : (second ? "L" : "M");
}

TEST(QrCode, HasTheLevelAndTheVersionThatWasAskedFor) {
  EXPECT_EQ(level_in(QrCode::of("RW:O:2041:Y", QrCode::Level::kL).value()), "L");
  EXPECT_EQ(level_in(QrCode::of("RW:O:2041:Y", QrCode::Level::kM).value()), "M");
  EXPECT_EQ(level_in(QrCode::of("RW:O:2041:Y", QrCode::Level::kQ).value()), "Q");
  EXPECT_EQ(level_in(QrCode::of("RW:O:2041:Y", QrCode::Level::kH).value()), "H");
  EXPECT_EQ(QrCode::of("RW:O:2041:Y", QrCode::Level::kM).value().modules(), 21) << "version 1";
  EXPECT_EQ(QrCode::of("RW:O:2041:Y", QrCode::Level::kM, 5).value().modules(), 37) << "version 5";
}

TEST(Labels, CodesOfOrdersAreOfLevelHAndLongOnesOfMOrMore) {
  for (const trade::LabelSheet& sheet : sheets()) {
    EXPECT_EQ(level_in(laid_out(sheet, label_of("2041"))->code), "H") << sheet.id;
    const auto longest = laid_out(sheet, label_of("DERAILLEUR-11-LONG-CAGE"));
    ASSERT_TRUE(longest) << sheet.id;
    EXPECT_NE(level_in(longest->code), "L") << sheet.id;
  }
}

TEST(Labels, TheSameLabelsAndMomentGiveTheSameBytes) {
  const trade::LabelSheet& sheet = sheets().front();
  const LabelPrint print{.sheet = &sheet, .from = 2, .printed = kLabelsPrinted};
  const std::vector<Label> labels = {label_of("2041"), label_of("2042", {"Äsa Ø."})};
  EXPECT_TRUE(labels_pdf(labels, print).value() == labels_pdf(labels, print).value());
  EXPECT_TRUE(labels_svg(labels, print, 1).value() == labels_svg(labels, print, 1).value());
  EXPECT_TRUE(labels_pdf(labels, print)->starts_with("%PDF"));
}

TEST(Labels, APositionThatTheSheetDoesNotHaveIsRefused) {
  const trade::LabelSheet& sheet = sheets().front();
  for (const int from : {0, -1, sheet.labels() + 1}) {
    const auto pdf = labels_pdf({label_of("1")}, {.sheet = &sheet, .from = from, .printed = {}});
    ASSERT_FALSE(pdf);
    EXPECT_EQ(pdf.error().place.field, "from");
  }
  EXPECT_FALSE(labels_svg({label_of("1")}, {.sheet = &sheet, .from = 1, .printed = {}}, 2));
}

}  // namespace
}  // namespace rollwright::documents
