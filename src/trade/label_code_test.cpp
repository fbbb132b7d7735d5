#include "trade/label_code.hpp"

#include <gtest/gtest.h>

#include "base/random.hpp"
#include "base/text.hpp"

// The ids in these tests are invented.
namespace rollwright::trade {
namespace {

/// Any text that a code could name: mostly letters and digits, hyphens, and whatever else people
/// put into an article number.
std::string any_id(Random& random) {
  static const std::vector<std::string> kPieces = {"-", "--", "_", "/", " ", ":", ".", "*", "é", "ß", "%"};
  std::string id;
  const std::uint64_t length = 1 + random.below(9);
  for (std::uint64_t i = 0; i < length; ++i) {
    const std::uint64_t what = random.below(10);
    if (what == 0) {
      id += kPieces[random.below(kPieces.size())];
    } else if (what < 5) {
      id += static_cast<char>('0' + random.below(10));
    } else {
      id += static_cast<char>('A' + random.below(26));
    }
  }
  return id;
}

LabelCode any_code(Random& random) {
  LabelCode code{.kind = all_label_kinds()[random.below(all_label_kinds().size())],
                 .id = any_id(random), .wheel = ""};
  if (code.kind == LabelKind::kWheel) code.wheel = random.below(2) == 0 ? "FRONT" : "REAR";
  return code;
}

/// Refused, or the same thing.
void expect_safe(const std::string& spoiled, const LabelCode& code, const std::string& text) {
  const Result<LabelCode> read = parse_label_code(spoiled);
  if (!read) return;
  EXPECT_EQ(*read, code) << text << " became " << spoiled;
}

// Annex 2, "ISBT 128 check character calculation", of the Guidelines for the Blood Transfusion
// Services in the UK (found): the worked example for ISO 7064 modulus 37,2 has the value 17, "H".
TEST(CheckCharacter, IsThatOfThePublishedExample) {
  EXPECT_EQ(check_character("G123498654321"), 'H');
}

// The standard's own condition: with the check character's value added, the sum is 1 modulo 37.
TEST(CheckCharacter, BringsTheSumOfEveryTextToOne) {
  constexpr std::string_view kValues = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ*";
  Random random(41);
  for (int trial = 0; trial < 500; ++trial) {
    std::string text;
    for (std::uint64_t i = 0; i < 1 + random.below(30); ++i) text += kValues[random.below(36)];
    text += check_character(text);
    std::uint64_t sum = 0;
    std::uint64_t weight = 1;
    for (auto c = text.rbegin(); c != text.rend(); ++c, weight = weight * 2 % 37) {
      sum += kValues.find(*c) * weight;
    }
    EXPECT_EQ(sum % 37, 1U) << text;
  }
}

TEST(LabelCode, IsShortTextWithTheKindAndACheckCharacter) {
  const std::string order = write_label_code({.kind = LabelKind::kOrder, .id = "2041", .wheel = ""});
  EXPECT_EQ(order.substr(0, 10), "RW:O:2041:");
  EXPECT_EQ(order.size(), 11U);
  const std::string wheel =
      write_label_code({.kind = LabelKind::kWheel, .id = "2041", .wheel = "FRONT"});
  EXPECT_TRUE(wheel.starts_with("RW:W:2041:FRONT:"));
  EXPECT_TRUE(write_label_code({.kind = LabelKind::kBin, .id = "HB-0412", .wheel = ""})
                  .starts_with("RW:B:HB-0412:"));
}

TEST(LabelCode, ReadsTheExamplesOfTheFormatsPage) {
  EXPECT_EQ(parse_label_code("RW:O:2041:Y").value(), (LabelCode{LabelKind::kOrder, "2041", ""}));
  EXPECT_EQ(parse_label_code("RW:W:2041:FRONT:A").value(), (LabelCode{LabelKind::kWheel, "2041", "FRONT"}));
  EXPECT_EQ(parse_label_code("RW:K:2041:E").value(), (LabelCode{LabelKind::kKit, "2041", ""}));
  EXPECT_EQ(parse_label_code("RW:B:HB-0412:W").value(), (LabelCode{LabelKind::kBin, "HB-0412", ""}));
  EXPECT_EQ(parse_label_code("RW:P:MARA:A").value(), (LabelCode{LabelKind::kPerson, "MARA", ""}));
  EXPECT_EQ(parse_label_code("RW:T:T3:H").value(), (LabelCode{LabelKind::kTool, "T3", ""}));
}

TEST(LabelCode, IsReadBackAsItWasWritten) {
  Random random(7);
  for (int trial = 0; trial < 3000; ++trial) {
    const LabelCode code = any_code(random);
    const Result<LabelCode> read = parse_label_code(write_label_code(code));
    ASSERT_TRUE(read) << code.id << ": " << read.error().full();
    EXPECT_EQ(*read, code);
  }
}

TEST(LabelCode, CountsLettersInUpperCase) {
  const std::string text = write_label_code({.kind = LabelKind::kPerson, .id = "mara", .wheel = ""});
  EXPECT_EQ(text, write_label_code({.kind = LabelKind::kPerson, .id = "MARA", .wheel = ""}));
  const Result<LabelCode> read = parse_label_code(" " + lowered(text) + "\r\n");
  ASSERT_TRUE(read);
  EXPECT_EQ(read->id, label_id("mara"));
}

TEST(LabelCode, RefusesEverySingleChangeOfACharacter) {
  Random random(11);
  for (int trial = 0; trial < 150; ++trial) {
    const LabelCode code = any_code(random);
    const std::string text = write_label_code(code);
    for (std::size_t i = 0; i < text.size(); ++i) {
      for (char c = ' '; c <= '~'; ++c) {
        std::string spoiled = text;
        spoiled[i] = c;
        expect_safe(spoiled, code, text);
      }
    }
  }
}

TEST(LabelCode, RefusesEverySwapOfNeighbours) {
  Random random(13);
  for (int trial = 0; trial < 3000; ++trial) {
    const LabelCode code = any_code(random);
    const std::string text = write_label_code(code);
    for (std::size_t i = 0; i + 1 < text.size(); ++i) {
      std::string spoiled = text;
      std::swap(spoiled[i], spoiled[i + 1]);
      expect_safe(spoiled, code, text);
    }
  }
}

TEST(LabelCode, SaysWhatIsNoneAndWhatIsMistyped) {
  for (const char* text : {"", "2041", "HB-0412", "RW", "RW:", "RW:X:2041:7", "XX:O:2041:7", "::::"}) {
    const Result<LabelCode> read = parse_label_code(text);
    ASSERT_FALSE(read) << text;
    EXPECT_NE(read.error().sentence.find("no code of a label"), std::string::npos) << text;
  }
  for (const char* text : {"RW:O:2041", "RW:O:2041:", "RW:O::1", "RW:O:2041:??", "RW:W:2041:A:B"}) {
    const Result<LabelCode> read = parse_label_code(text);
    ASSERT_FALSE(read) << text;
    EXPECT_NE(read.error().sentence.find("mistyped"), std::string::npos) << text;
  }
}

TEST(LabelCode, RefusesAnIdThatIsNotWrittenAsItWouldBe) {
  for (const std::string id : {"--41", "A--4", "--ZZ", "--", "A--FF"}) {  // A, cut, no hex, no UTF-8
    const std::string text = "RW:B:" + id + ":" + check_character("B" + id);
    EXPECT_FALSE(parse_label_code(text)) << text;
  }
}

}  // namespace
}  // namespace rollwright::trade
