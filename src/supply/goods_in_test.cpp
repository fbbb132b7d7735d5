#include "supply/goods_in.hpp"

#include <fstream>
#include <sstream>

#include <gtest/gtest.h>

#include "base/random.hpp"

// All deliveries in these tests are invented.
namespace rollwright::supply {
namespace {

const Day kDay = parse_day("2026-11-25").value();

GoodsIn through(GoodsIn line, const std::vector<std::pair<Step, int>>& steps) {
  for (const auto& [step, pieces] : steps) {
    const Result<GoodsIn> next = after(line, step, pieces, kDay);
    EXPECT_TRUE(next) << word_of(step);
    if (next) line = *next;
  }
  return line;
}

TEST(GoodsIn, TakesADeliveryInParts) {
  GoodsIn line = through({.ordered = 4}, {{Step::kUnload, 3}, {Step::kAccept, 3}});
  EXPECT_EQ(word_of(line), "part here");
  EXPECT_EQ(line.outstanding(), 1);
  EXPECT_EQ(line.first_arrival, kDay);
  line = through(line, {{Step::kUnload, 1}, {Step::kAccept, 1}});
  EXPECT_EQ(word_of(line), "accepted");
}

TEST(GoodsIn, SendsBackWhatIsWrongAndGetsItAgain) {
  GoodsIn line = through({.ordered = 2}, {{Step::kUnload, 2}, {Step::kAccept, 1},
                                          {Step::kQuarantine, 1}});
  EXPECT_EQ(word_of(line), "quarantined");
  line = through(line, {{Step::kSendBack, 1}});
  EXPECT_EQ(word_of(line), "settled") << "one is credited";
  line = through(line, {{Step::kSendAgain, 1}});
  EXPECT_EQ(line.outstanding(), 1);
  line = through(line, {{Step::kUnload, 1}, {Step::kAccept, 1}});
  EXPECT_EQ(word_of(line), "accepted");
  EXPECT_EQ(line.accepted, 2);
}

TEST(GoodsIn, RefusesPiecesThatAreNotThere) {
  const GoodsIn line{.ordered = 2};
  EXPECT_EQ(after(line, Step::kUnload, 3, kDay).error().code, Code::kRefused);
  EXPECT_EQ(after(line, Step::kUnload, 0, kDay).error().code, Code::kOutOfRange);
  EXPECT_EQ(after(line, Step::kAccept, 1, kDay).error().sentence,
            "there are 0 pieces to accept here, not 1");
  const GoodsIn back = through(line, {{Step::kUnload, 1}, {Step::kQuarantine, 1},
                                      {Step::kSendBack, 1}, {Step::kSendAgain, 1}});
  EXPECT_FALSE(after(back, Step::kSendAgain, 1, kDay)) << "it was sent again already";
}

// Property over random courses: pieces are neither made nor lost.
TEST(GoodsIn, KeepsCountOfEveryPiece) {
  constexpr Step kAll[] = {Step::kUnload, Step::kAccept, Step::kQuarantine, Step::kRelease,
                           Step::kSendBack, Step::kSendAgain, Step::kWriteOff,
                           Step::kStillComes, Step::kFindBad};
  for (std::uint64_t seed = 1; seed <= 300; ++seed) {
    SCOPED_TRACE(seed);
    Random random(seed);
    GoodsIn line{.ordered = 1 + static_cast<int>(random.below(6))};
    int brought = 0;
    for (int i = 0; i < 40; ++i) {
      const Step step = kAll[random.below(std::size(kAll))];
      const int pieces = 1 + static_cast<int>(random.below(3));
      const Result<GoodsIn> next = after(line, step, pieces, kDay);
      if (!next) continue;
      if (step == Step::kUnload) brought += pieces;
      line = *next;
      EXPECT_EQ(line.arrived(), brought);
      EXPECT_GE(line.outstanding(), 0);
      EXPECT_LE(line.again, line.sent_back);
      for (const int count : {line.to_look_at, line.accepted, line.quarantined, line.sent_back,
                              line.written_off}) {
        EXPECT_GE(count, 0);
      }
      EXPECT_LE(line.accepted, line.ordered);
    }
  }
}

std::vector<ClaimWindow> windows() {
  std::ifstream file(ROLLWRIGHT_ROOT "/data/trade/claim_windows.csv");
  std::stringstream text;
  text << file.rdbuf();
  return read_claim_windows(text.str(), "claim_windows.csv").value();
}

TEST(ClaimWindows, GoByTroubleAndCarrier) {
  const auto rows = windows();
  const auto days = [&](Trouble trouble, const char* carrier) {
    return (claim_by(rows, trouble, carrier, kDay).value() - kDay).count();
  };
  EXPECT_EQ(days(Trouble::kDamageSeen, "road"), 0);
  EXPECT_EQ(days(Trouble::kShort, "parcel"), 1);
  EXPECT_EQ(days(Trouble::kDamageHidden, "air"), 14);
  EXPECT_EQ(days(Trouble::kDamageHidden, "sea"), 3);
  EXPECT_EQ(claim_by(rows, Trouble::kLate, "parcel", kDay).error().code, Code::kNotFound);
}

TEST(GoodsIn, StepsAreCalledByTheirWords) {
  for (const std::string& word : all_steps()) {
    ASSERT_TRUE(step_named(word)) << word;
    EXPECT_EQ(word_of(*step_named(word)), word);
  }
  EXPECT_FALSE(step_named("lose"));
}

TEST(GoodsIn, WhatWasGoodMayBeFoundBadAndWhatWasMissingMayStillCome) {
  GoodsIn line = through({.ordered = 3}, {{Step::kUnload, 2}, {Step::kAccept, 2},
                                          {Step::kWriteOff, 1}});
  EXPECT_EQ(line.outstanding(), 0);
  line = through(line, {{Step::kFindBad, 1}, {Step::kStillComes, 1}});
  EXPECT_EQ(line.accepted, 1);
  EXPECT_EQ(line.quarantined, 1);
  EXPECT_EQ(line.outstanding(), 1);
}

TEST(ClaimWindows, TheSuppliersOwnTermsGoFirst) {
  const auto usual = claim_clock(windows(), {}, Trouble::kWrong, "parcel", kDay).value();
  EXPECT_EQ((usual.tell_by - kDay).count(), 7);
  const auto own =
      claim_clock(windows(), {{Trouble::kWrong, 14}}, Trouble::kWrong, "parcel", kDay).value();
  EXPECT_EQ((own.tell_by - kDay).count(), 14);
  EXPECT_EQ(own.terms, "the supplier's terms: 14 days");
  EXPECT_FALSE(claim_clock(windows(), {}, Trouble::kLate, "parcel", kDay));
}

TEST(ClaimWindows, SayWhatIsWrongWithARow) {
  const auto field = [](const char* row) {
    const auto read =
        read_claim_windows(std::string("trouble,carrier,days,source\n") + row, "x.csv");
    return read ? std::string() : read.error().place.field;
  };
  EXPECT_EQ(field("short,any,1,invented"), "");
  EXPECT_EQ(field("shrot,any,1,invented"), "trouble");
  EXPECT_EQ(field("short,mule,1,invented"), "carrier");
  EXPECT_EQ(field("short,any,1.5,invented"), "days");
  EXPECT_EQ(field("short,any,1,"), "source");
  EXPECT_EQ(read_claim_windows("trouble,days\n", "x.csv").error().place.field, "carrier");
}

}  // namespace
}  // namespace rollwright::supply
