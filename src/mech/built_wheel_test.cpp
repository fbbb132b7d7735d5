#include "mech/built_wheel.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "mech/spoke_pitch.hpp"
#include "mech/wheel_lacing.hpp"
#include "mech/wheel_model.hpp"
#include "mech/wheel_smeared.hpp"

namespace rollwright::mech {
namespace {

/// A dished rear wheel of 32 spokes, three crosses, with a shallow double-wall rim
/// ([wheel-thesis], acoustic test).
WheelToBuild rear() {
  return {.geometry = {.left = {45 * mm, 37 * mm, 16, 3},
                       .right = {45 * mm, 18 * mm, 16, 3},
                       .rim_diameter = 602 * mm,
                       .spoke_hole = 2.6 * mm},
          .spoke_diameter = 1.8 * mm,
          .tensions = {.left = 540 * newton, .right = 1100 * newton},
          .rim = {.radius = 301 * mm, .bending_radial = 111, .bending_lateral = 219,
                  .torsion = 26.3, .rigidity = 6.9e6 * newton}};
}

TEST(BuiltWheel, HasTheSpokesOfItsGeometry) {
  const auto built = built_wheel(rear());
  ASSERT_TRUE(built) << built.error().full();
  // Worked cases of [spoke-geometry], by hand from the law of cosines.
  EXPECT_NEAR(built->left.spoke.length.in(mm), 294.154, 0.001);
  EXPECT_NEAR(built->right.spoke.length.in(mm), 292.380, 0.001);
  EXPECT_EQ(built->left.most_crosses, 3);
}

TEST(BuiltWheel, StretchesItsSpokesByHookesLaw) {
  const auto built = built_wheel(rear());
  ASSERT_TRUE(built);
  // T l / (E A) by hand: 1100 N, 293.68 mm between the ends, 200 GPa, pi 1.8² / 4 mm²: 0.635 mm.
  EXPECT_NEAR(built->right.stretch.in(mm), 0.635, 0.001);
  // n T R / (2 pi E A): 32 * 820 N * 301 mm / (2 pi * 6.9 MN) = 0.182 mm.
  EXPECT_NEAR(built->rim_shrink.in(mm), 0.182, 0.001);
}

TEST(BuiltWheel, SoundsHigherOnTheTighterSideBetweenPinnedAndClamped) {
  const auto built = built_wheel(rear());
  ASSERT_TRUE(built);
  EXPECT_GT(built->right.pitch, built->left.pitch);
  for (const BuiltSide* side : {&built->left, &built->right}) {
    const bool left = side == &built->left;
    SoundingSpoke spoke{.length = side->sounding, .diameter = 1.8 * mm};
    spoke.ends = SpokeEndsHeld::kString;
    const Frequency string = *spoke_pitch(spoke, (left ? 540 : 1100) * newton);
    EXPECT_GT(side->pitch, string) << "a wire is stiffer than a string";
    EXPECT_GT(side->pitch - side->pitch_apart, string);
  }
}

TEST(BuiltWheel, CarriesAboutAsPublishedOverTheContact) {
  const auto built = built_wheel(rear());
  ASSERT_TRUE(built);
  // 0.37 to 0.44 for wheels of 32 to 36 spokes ([wheel-thesis]).
  for (const BuiltSide* side : {&built->left, &built->right}) {
    EXPECT_GT(side->share, 0.3);
    EXPECT_LT(side->share, 0.5);
    EXPECT_GT(side->share_of_three, side->share);
    EXPECT_LT(side->share_of_three, 1.1);
  }
  EXPECT_NEAR(built->left.slack_at.in(newton), 540 / built->left.share, 1e-6);
}

std::vector<WheelSpoke> spokes_of(const WheelToBuild& wheel) {
  const Force rigidity = 200e9 * std::numbers::pi / 4 * 1.8e-3 * 1.8e-3 * newton;
  return *laced({.left = {wheel.geometry.left, rigidity, wheel.tensions.left},
                 .right = {wheel.geometry.right, rigidity, wheel.tensions.right},
                 .nipple_circle = wheel.geometry.rim_diameter});
}

TEST(BuiltWheel, IsAsStiffAsTheSpreadBedSays) {
  // Second opinion: closed forms of the evenly spread bed, which know nothing of a dished wheel's
  // coupling of sideways and radial movement: 20 %.
  const WheelToBuild wheel = rear();
  const auto built = built_wheel(wheel);
  ASSERT_TRUE(built);
  const auto bed = smeared(wheel.rim, spokes_of(wheel));
  ASSERT_TRUE(bed);
  EXPECT_NEAR(built->lateral / lateral_stiffness(*bed), 1, 0.2);
  EXPECT_NEAR(built->radial / radial_stiffness(*bed, RimLength::kElastic), 1, 0.2);
  EXPECT_NEAR(built->mean.in(newton), 820, 1e-9);
  EXPECT_GT(built->buckling_advice, built->mean);
}

/// Torque of spokes pulled out of place by turning the rim, straight from their lengths, N·m.
double torque_of(const std::vector<WheelSpoke>& spokes, double turned) {
  constexpr double kRim = 0.301;
  double torque = 0;
  for (const WheelSpoke& spoke : spokes) {
    const double length = spoke.path.in(mm) / 1000;
    const double across = length * spoke.lateral;
    const double hub_out = kRim - length * spoke.radial;
    const double hub_along = length * spoke.tangential;
    const auto length_at = [&](double angle) {
      return std::hypot(across, kRim * std::cos(angle) - hub_out,
                        kRim * std::sin(angle) - hub_along);
    };
    const double pull = spoke.tension.in(newton) +
                        spoke.rigidity.in(newton) * (length_at(turned) - length) / length;
    torque += pull * (length_at(turned + 1e-6) - length_at(turned - 1e-6)) / 2e-6;
  }
  return torque;
}

TEST(BuiltWheel, TurnsAsStifflyAsItsSpokesOutOfPlaceSay) {
  const WheelToBuild wheel = rear();
  const auto built = built_wheel(wheel);
  ASSERT_TRUE(built);
  const auto spokes = spokes_of(wheel);
  constexpr double kTurned = 1e-3;  // radian
  const double plain = (torque_of(spokes, kTurned) - torque_of(spokes, -kTurned)) / (2 * kTurned) *
                       std::numbers::pi / 180;
  EXPECT_NEAR(built->torsional / plain, 1, 0.005);
  // The ring model, 1 N along the rim at every nipple; the rim's own give takes a little.
  const auto model = WheelModel::of(wheel.rim, spokes);
  ASSERT_TRUE(model);
  double way_mm = 0;
  for (const WheelSpoke& spoke : spokes) {
    const WheelShape shape = model->under_newton(RimDirection::kTangential, spoke.at);
    way_mm += model->move(shape, RimDirection::kTangential, spokes.front().at);
  }
  const double degrees = way_mm / 301 * 180 / std::numbers::pi;
  EXPECT_NEAR(built->torsional * degrees / (32 * 0.301), 1, 0.08);
}

TEST(BuiltWheel, RefusesWhatCannotBeLacedAndTensionsThatFoldIt) {
  WheelToBuild wheel = rear();
  wheel.geometry.left.crosses = 7;
  EXPECT_EQ(built_wheel(wheel).error().code, Code::kContradiction);
  wheel = rear();
  wheel.rim.torsion = 0.5;
  wheel.rim.bending_lateral = 2;
  const auto folded = built_wheel(wheel);
  ASSERT_FALSE(folded);
  EXPECT_EQ(folded.error().code, Code::kContradiction);
}

TEST(TensionTargets, StayBelowWhatIsAskedOfTheTighterSide) {
  const auto spokes = wheel_spokes(rear().geometry);
  ASSERT_TRUE(spokes);
  const auto most = tension_targets(*spokes, {1250 * newton, 0.1});
  const auto asked = tension_targets(*spokes, {1250 * newton, 0.1, 900 * newton});
  const auto beyond = tension_targets(*spokes, {1250 * newton, 0.1, 2000 * newton});
  ASSERT_TRUE(most && asked && beyond);
  EXPECT_NEAR(asked->right.in(newton), 900, 1e-9);
  EXPECT_NEAR(asked->left / asked->right, most->left / most->right, 1e-12);
  EXPECT_EQ(beyond->right, most->right) << "the rim's limit comes first";
}

}  // namespace
}  // namespace rollwright::mech
