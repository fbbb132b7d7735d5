#include <gtest/gtest.h>

#include <algorithm>

#include "aids/aids.hpp"

namespace rollwright::aids {
namespace {

Reckoned card_of(const Typed& typed) {
  const auto reckoned = reckon("wheel-card", typed);
  EXPECT_TRUE(reckoned) << reckoned.error().full();
  return *reckoned;
}

/// {left, right}; empty where there is no such line.
std::pair<std::string, std::string> sides(const Reckoned& card, const std::string& name) {
  for (const auto& cells : card.tables.front().rows) {
    if (cells[0] == name) return {cells[1], cells[2]};
  }
  return {};
}

std::string figure(const Reckoned& card, const std::string& name) {
  const auto found = std::ranges::find(card.rows, name, &Row::name);
  return found == card.rows.end() ? "" : found->value;
}

bool warns(const Reckoned& card, const std::string& words) {
  return std::ranges::any_of(card.cautions, [&](const std::string& caution) {
    return caution.find(words) != std::string::npos;
  });
}

TEST(WheelCard, SaysLengthsTensionsAndPitchOfBothSides) {
  const Reckoned card = card_of({{"rim_limit", "1250 N"}, {"tight_most", "1125 N"}});
  using Two = std::pair<std::string, std::string>;
  // Worked wheel of [spoke-geometry]: 294.154 and 292.380 mm by hand; the balance is 48.94 %.
  EXPECT_EQ(sides(card, "Spoke reckoned"), Two("294.2 mm", "292.4 mm"));
  EXPECT_EQ(sides(card, "Take from the drawer"), Two("294 mm", "292 mm"));
  EXPECT_EQ(sides(card, "Mean tension to build to"), Two("551 N, 56 kgf", "1125 N, 115 kgf"));
  EXPECT_EQ(sides(card, "Every spoke between"), Two("496 and 606 N", "1012 and 1238 N"));
  EXPECT_EQ(figure(card, "Slack side over tight side"), "49 %");
  EXPECT_NE(sides(card, "Pitch to hear").first, "");
  for (const Row& row : card.rows) {
    if (!row.name.starts_with("Stiff")) continue;
    EXPECT_NE(row.note.find("estimated rim stiffness"), std::string::npos) << row.name;
  }
}

TEST(WheelCard, GivesNoTensionWithoutALimitOfTheRim) {
  const Reckoned card = card_of({});
  EXPECT_EQ(sides(card, "Mean tension to build to").first, "");
  EXPECT_EQ(sides(card, "Pitch to hear").first, "");
  EXPECT_TRUE(warns(card, "No limit of this rim is known"));
}

TEST(WheelCard, TakesFewLengthsOverBothWheels) {
  const Reckoned alone = card_of({{"stock", "292 293 294"}});
  EXPECT_EQ(figure(alone, "Lengths to lay out"), "2");
  // 294.154, 292.380, 292.7 and 294.3 mm: 293 would be nearer to 292.7, but two lengths do for all.
  const Reckoned both = card_of({{"stock", "292 293 294"}, {"other_lengths", "292.7 294.3"}});
  EXPECT_EQ(figure(both, "Lengths to lay out for both wheels"), "2");
}

TEST(WheelCard, SaysWhenNoLengthFits) {
  const Reckoned card = card_of({{"stock", "280 290"}});
  EXPECT_TRUE(warns(card, "No stock length lies"));
  EXPECT_EQ(sides(card, "Take from the drawer").first, "");
  EXPECT_EQ(sides(card, "Spoke reckoned").first, "294.2 mm") << "the rest stands";
}

TEST(WheelCard, CutsToTheWholeMillimetreBelow) {
  const Reckoned card = card_of({{"spokes_come", "cut to length here"}});
  EXPECT_EQ(sides(card, "Cut to").first, "294 mm");
  EXPECT_EQ(sides(card, "Cut to").second, "292 mm");
}

TEST(WheelCard, WarnsOfSpokesThatReachTheRimAskew) {
  EXPECT_FALSE(warns(card_of({}), "reach the rim"));
  EXPECT_TRUE(warns(card_of({{"nipple_angle", "3"}}), "the rim allows 3°"));
}

TEST(WheelCard, WarnsOfTensionNearWhatFoldsTheWheel) {
  EXPECT_FALSE(warns(card_of({{"rim_limit", "1250 N"}}), "folds this wheel"));
  EXPECT_TRUE(warns(card_of({{"rim_limit", "1800 N"}, {"rim", "single-wall"}}), "folds this wheel"));
}

}  // namespace
}  // namespace rollwright::aids
