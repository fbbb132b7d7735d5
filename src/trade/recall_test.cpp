#include "trade/recall.hpp"

#include <gtest/gtest.h>

// The notices in these tests are invented.
namespace rollwright::trade {
namespace {

Day on(const char* text) { return parse_day(text).value(); }

TEST(Recall, WithoutARangeEveryPieceIsMeantForCertain) {
  EXPECT_EQ(certainty_of({}, {}), Certainty::kCertain);
  EXPECT_EQ(certainty_of({}, {.serial = "1", .lot = "L1"}), Certainty::kCertain);
}

TEST(Recall, ALotInsideIsCertainOneOutsideNotAndOneNotWrittenDownPossible) {
  const Recall recall{.lot_from = "L10", .lot_to = "L20"};
  EXPECT_EQ(certainty_of(recall, {.lot = "L10"}), Certainty::kCertain);
  EXPECT_EQ(certainty_of(recall, {.lot = "L20"}), Certainty::kCertain);
  EXPECT_EQ(certainty_of(recall, {.lot = "L21"}), Certainty::kNot);
  EXPECT_EQ(certainty_of(recall, {.lot = "L9"}), Certainty::kNot);
  EXPECT_EQ(certainty_of(recall, {.lot = "L110"}), Certainty::kNot) << "another length";
  EXPECT_EQ(certainty_of(recall, {}), Certainty::kPossible);
}

TEST(Recall, OneEndOfARangeIsThatOneNumber) {
  EXPECT_EQ(certainty_of({.lot_from = "L7"}, {.lot = "L7"}), Certainty::kCertain);
  EXPECT_EQ(certainty_of({.lot_from = "L7"}, {.lot = "L8"}), Certainty::kNot);
  EXPECT_EQ(certainty_of({.serial_to = "9"}, {.serial = "9"}), Certainty::kCertain);
}

TEST(Recall, WhatIsOutsideOneRangeIsNotMeantWhateverElseIsNotKnown) {
  const Recall recall{.lot_from = "L7", .serial_from = "100", .serial_to = "199"};
  EXPECT_EQ(certainty_of(recall, {.serial = "250"}), Certainty::kNot);
  EXPECT_EQ(certainty_of(recall, {.serial = "150"}), Certainty::kPossible);
  EXPECT_EQ(certainty_of(recall, {.serial = "150", .lot = "L7"}), Certainty::kCertain);
}

TEST(Recall, DaysAreThoseOnWhichPiecesCame) {
  const Recall recall{.day_from = on("2026-03-01"), .day_to = on("2026-04-30")};
  EXPECT_EQ(certainty_of(recall, {.came = on("2026-03-01")}), Certainty::kCertain);
  EXPECT_EQ(certainty_of(recall, {.came = on("2026-05-01")}), Certainty::kNot);
  EXPECT_EQ(certainty_of(recall, {.bound = on("2026-02-28")}), Certainty::kNot)
      << "it had come before";
  EXPECT_EQ(certainty_of(recall, {.bound = on("2026-06-01")}), Certainty::kPossible);
  EXPECT_EQ(certainty_of(recall, {}), Certainty::kPossible);
}

TEST(Recall, MeansOnePartOrAllOfAKindByOneMaker) {
  const Part part{.id = PartId("ST-1"), .kind = KindId("K-ST"), .maker = "Quern"};
  EXPECT_TRUE(means({.part = PartId("ST-1")}, part));
  EXPECT_FALSE(means({.part = PartId("ST-2"), .kind = KindId("K-ST"), .maker = "Quern"}, part));
  EXPECT_TRUE(means({.kind = KindId("K-ST"), .maker = "quern"}, part));
  EXPECT_FALSE(means({.kind = KindId("K-BA"), .maker = "Quern"}, part));
}

TEST(Recall, EveryStatusIsNamedAndReadBack) {
  for (const std::string& word : all_recall_statuses()) {
    EXPECT_EQ(word_of(recall_status_named(word).value()), word);
  }
  EXPECT_FALSE(recall_status_named("lost"));
  EXPECT_FALSE(rider_knows(RecallStatus::kNoAnswer));
  EXPECT_TRUE(rider_knows(RecallStatus::kSoldOn));
}

}  // namespace
}  // namespace rollwright::trade
