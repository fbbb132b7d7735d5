#include <gtest/gtest.h>

#include <cmath>

#include "mech/rim_section.hpp"

namespace rollwright::mech {
namespace {

// Published by an acoustic test (found); the rigidity is 69 GPa times the published 104 mm².
const RimSection kReference = {.radius = 304 * mm,
                               .bending_radial = 111,
                               .bending_lateral = 219,
                               .torsion = 26.3,
                               .rigidity = 69e9 * 104e-6 * newton};
constexpr Mass kReferenceMass = 538 * gram;

TEST(Rim, ResistsTheShapeWithTwoWavesAsPublished) {
  // Row 2.3: 71 N/mm published (found), 71.52 derived.
  EXPECT_NEAR(rim_lateral_stiffness(kReference, 2), 71.52, 0.01);
  // Row 2.4, derived, for the deep rim.
  RimSection deep = kReference;
  deep.radius = 305 * mm;
  deep.bending_lateral = 206;
  deep.torsion = 94;
  EXPECT_NEAR(rim_lateral_stiffness(deep, 2), 132.6, 0.1);
  EXPECT_NEAR(rim_lateral_stiffness(deep, 3), 1174.0, 0.5);
  EXPECT_EQ(rim_lateral_stiffness(deep, 1), 0) << "a tilt does not bend it";
}

TEST(Rim, RingsAtTheDerivedTones) {
  // Rows 2.15 and 2.16: equations found, values derived.
  const double radial[] = {91.74, 259.47, 497.50};
  const double lateral[] = {82.06, 276.87, 584.17};
  for (int n = 2; n <= 4; ++n) {
    EXPECT_NEAR(rim_radial_tone(kReference, kReferenceMass, n)->in(hertz), radial[n - 2], 0.01);
    EXPECT_NEAR(rim_lateral_tone(kReference, kReferenceMass, n)->in(hertz), lateral[n - 2], 0.01);
  }
}

TEST(Rim, IsFoundAgainFromItsTones) {
  // Row 2.17: equation found; r² 11.38293, mu 0.120091 and GJ 26.3 derived.
  const auto two = rim_lateral_tone(kReference, kReferenceMass, 2);
  const auto three = rim_lateral_tone(kReference, kReferenceMass, 3);
  EXPECT_NEAR(std::pow(*three / *two, 2), 11.38293, 0.00001);
  const auto rim = rim_of_tones(
      {.mass = kReferenceMass, .radius = 304 * mm, .two = *two, .three = *three});
  ASSERT_TRUE(rim);
  EXPECT_NEAR(rim->torsion, 26.3, 1e-9);
  EXPECT_NEAR(rim->bending_lateral, 219, 1e-6);
  EXPECT_NEAR(rim->torsion / rim->bending_lateral, 0.120091, 1e-6);
}

TEST(Rim, OnePerCentInATonesMovesBendingMostAsTheHeaderSays) {
  const auto two = *rim_lateral_tone(kReference, kReferenceMass, 2);
  const auto three = *rim_lateral_tone(kReference, kReferenceMass, 3);
  const auto off = rim_of_tones(
      {.mass = kReferenceMass, .radius = 304 * mm, .two = two, .three = 1.01 * three});
  EXPECT_NEAR(off->bending_lateral / 219, 1, 0.15);
  EXPECT_GT(std::fabs(off->bending_lateral / 219 - 1), 0.03);
  EXPECT_NEAR(off->torsion / 26.3, 1, 0.033);
}

TEST(Rim, RefusesTonesThatNoRimHas) {
  const RimTones equal = {
      .mass = kReferenceMass, .radius = 304 * mm, .two = 80 * hertz, .three = 80 * hertz};
  EXPECT_EQ(rim_of_tones(equal).error().code, Code::kContradiction);
  EXPECT_EQ(rim_of_tones({.mass = 0 * kg}).error().code, Code::kOutOfRange);
  EXPECT_FALSE(rim_radial_tone(kReference, kReferenceMass, 1));
  RimSection limp = kReference;
  limp.torsion = 0;
  EXPECT_EQ(checked(limp).error().place.field, "torsional rim stiffness");
}

TEST(Rim, GivesWhenSqueezed) {
  // Row 2.18: equation found, value derived.
  EXPECT_NEAR(rim_squeeze(kReference, 100 * newton)->in(mm), 3.766, 0.001);
}

TEST(Rim, BucklesInItsPlaneAsTheClassicsSay) {
  // Row 2.24, derived; row 2.25, found: exactly 4/3.
  EXPECT_NEAR(flat_ring_buckling(0.38, false), 1.8095, 0.0001);
  EXPECT_DOUBLE_EQ(flat_ring_buckling(0.38, false) / flat_ring_buckling(0.38, true), 4.0 / 3);
}

}  // namespace
}  // namespace rollwright::mech
