#include <gtest/gtest.h>

#include <algorithm>

#include "aids/aids.hpp"
#include "aids/filled.hpp"
#include "mech/rim_section.hpp"

// Braking force, permitted mass, a rim's tones, joints, and aids that somebody fills.
namespace rollwright::aids {
namespace {

std::string value(const Result<Reckoned>& reckoned, const std::string& name) {
  if (!reckoned) return reckoned.error().full();
  const auto found = std::ranges::find(reckoned->rows, name, &Row::name);
  return found == reckoned->rows.end() ? "no such row" : found->value;
}

TEST(BrakeForceAid, IsTheProductOfItsRatios) {
  // 100 N × 5 × 0.85 × 2 on each of two pads × 0.4 × 70 / 350 = 136 N.
  const auto force = reckon("brake-force", {{"pad_radius", "70 mm"}, {"wanted", "272 N"}});
  EXPECT_EQ(value(force, "Braking force at the tyre"), "136 N");
  EXPECT_EQ(value(force, "By hand, for the force wanted"), "200 N");
}

TEST(MassLimitsAid, TakesTheStrictestAndSaysWhatIsTooHeavy) {
  const auto fits = reckon("mass-limits", {{"whole", "120 kg"}, {"rear_brake", "130 kg"}});
  EXPECT_EQ(value(fits, "At most"), "130 kg");
  EXPECT_EQ(value(fits, "Left"), "10 kg");
  const auto heavy = reckon("mass-limits", {{"whole", "140 kg"}, {"rear_brake", "130 kg"}});
  EXPECT_EQ(value(heavy, "Too heavy by"), "10 kg");
  EXPECT_EQ(heavy->cautions.size(), 1U);
}

/// The tones of a rim of known stiffness must give that stiffness back.
TEST(RimTonesAid, GivesBackTheStiffnessOfARimThatRangSo) {
  const mech::RimSection rim{.radius = 305 * mm, .bending_radial = 200, .bending_lateral = 180,
                             .torsion = 25, .rigidity = 20e6 * newton};
  const auto tone = [&](int waves) {
    return std::to_string(mech::rim_lateral_tone(rim, 0.5 * kg, waves).value().in(hertz)) + " Hz";
  };
  const auto found = reckon("rim-tones", {{"two", tone(2)}, {"three", tone(3)}});
  EXPECT_NEAR(std::stod(value(found, "Sideways bending, EI")), 180, 0.5);
  EXPECT_NEAR(std::stod(value(found, "Torsion, GJ")), 25, 0.1);
  EXPECT_NEAR(std::stod(value(found, "The next tone, with four waves")), std::stod(tone(4)), 1);
}

TEST(RimTonesAid, RefusesTonesThatNoRimHas) {
  const auto found = reckon("rim-tones", {{"two", "50 Hz"}, {"three", "60 Hz"}});
  EXPECT_FALSE(found);
}

TEST(TorqueAid, PutsThePrintFirstAndTheUsualRangeBesideIt) {
  const auto torque = reckon("torque", {{"joint", "faceplate bolts"}, {"printed", "5 N·m"}});
  ASSERT_TRUE(torque) << torque.error().full();
  EXPECT_EQ(torque->rows[0].name, "Printed, goes first");
  EXPECT_EQ(value(torque, "Usual, from"), "4 N·m");
  EXPECT_EQ(value(torque, "Usual, to"), "6 N·m");
}

TEST(TorqueAid, HoldsAFailureAgainstThePrint) {
  const auto kept = reckon("torque", {{"printed", "5 N·m"}, {"failed", "8 N·m"}});
  EXPECT_EQ(value(kept, "Keeps 1.5 times its print"), "yes");
  const auto broke = reckon("torque", {{"printed", "5 N·m"}, {"failed", "7 N·m"}});
  EXPECT_EQ(value(broke, "Keeps 1.5 times its print"), "no");
}

TEST(FilledAid, AsksAtTheFieldThatRefuses) {
  const Aid& aid = **aid_called("chain-length");
  const FilledAid made = filled(aid, {.known = {{.key = "front", .value = "no number", .origin = "x",
                                                 .question = "how many teeth?"}},
                                      .typed = {}, .file = {}});
  ASSERT_TRUE(made.refusal);
  EXPECT_EQ(made.refusal->place.field, "front");
  EXPECT_NE(made.refusal->sentence.find("how many teeth?"), std::string::npos);
}

TEST(FilledAid, KeepsAQuestionOpenOnlyWhileAPresetStandsThere) {
  const Aid& aid = **aid_called("chain-length");
  const Filling asked{.known = {{.key = "front", .value = {}, .origin = {}, .question = "teeth?"}},
                      .typed = {}, .file = {}};
  EXPECT_EQ(filled(aid, asked).open, (std::vector<std::string>{"teeth?"}));
  Filling typed = asked;
  typed.typed = {{"front", "44"}};
  EXPECT_TRUE(filled(aid, typed).open.empty());
}

}  // namespace
}  // namespace rollwright::aids
