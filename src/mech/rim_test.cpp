#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "mech/rim_section.hpp"
#include "mech/trials/checked.hpp"

namespace rollwright::mech {
namespace {

using trials::CheckedRow;
using trials::expect_row;
using trials::expect_rows;
using trials::Tag;

// Published by an acoustic test (found); the rigidity is 69 GPa times the published 104 mm².
const RimSection kReference = {.radius = 304 * mm,
                               .bending_radial = 111,
                               .bending_lateral = 219,
                               .torsion = 26.3,
                               .rigidity = 69e9 * 104e-6 * newton};
constexpr Mass kReferenceMass = 538 * gram;

const CheckedRow kStiffness = {.unit = "N/mm", .source = "wheel-thesis"};

TEST(Rim, ResistsTheShapeWithTwoWavesAsPublished) {
  const double two = rim_lateral_stiffness(kReference, 2);
  expect_row({.row = "2.3 published",
              .of = "bare reference rim against two waves, to 1 %",
              .unit = "N/mm",
              .expected = 71,
              .tolerance = 0.71,
              .ours = two,
              .tag = Tag::kFoundDerived,
              .source = "wheel-thesis"});
  RimSection deep = kReference;
  deep.radius = 305 * mm;
  deep.bending_lateral = 206;
  deep.torsion = 94;
  expect_rows(kStiffness, {{"2.3", "the same", 71.52, 0.01, two},
                           {"2.4 two waves", "deep rim of row 2.1 against two waves", 132.6, 0.1,
                            rim_lateral_stiffness(deep, 2)},
                           {"2.4 three waves", "the same against three waves", 1174.0, 0.5,
                            rim_lateral_stiffness(deep, 3)}});
  EXPECT_EQ(rim_lateral_stiffness(deep, 1), 0) << "a tilt does not bend it";
}

TEST(Rim, RingsAtTheDerivedTones) {
  const CheckedRow tone = {.unit = "Hz", .source = "wheel-thesis"};
  const double radial[] = {91.74, 259.47, 497.50};
  const double lateral[] = {82.06, 276.87, 584.17};
  for (int n = 2; n <= 4; ++n) {
    const std::string waves = " " + std::to_string(n) + " waves";
    expect_rows(tone, {{"2.15" + waves, "tone of the bare reference rim, in its plane," + waves,
                        radial[n - 2], 0.01,
                        rim_radial_tone(kReference, kReferenceMass, n)->in(hertz)},
                       {"2.16" + waves, "tone of the bare reference rim, sideways," + waves,
                        lateral[n - 2], 0.01,
                        rim_lateral_tone(kReference, kReferenceMass, n)->in(hertz)}});
  }
}

TEST(Rim, IsFoundAgainFromItsTones) {
  const auto two = rim_lateral_tone(kReference, kReferenceMass, 2);
  const auto three = rim_lateral_tone(kReference, kReferenceMass, 3);
  const auto rim = rim_of_tones(
      {.mass = kReferenceMass, .radius = 304 * mm, .two = *two, .three = *three});
  ASSERT_TRUE(rim);
  EXPECT_NEAR(rim->bending_lateral, 219, 1e-6);
  expect_rows({.source = "wheel-thesis"},
              {{"2.17 tones", "square of the sideways tones of three and two waves", 11.38293,
                0.00001, std::pow(*three / *two, 2)},
               {"2.17 stiffness", "torsion over bending found from those tones", 0.120091, 1e-6,
                rim->torsion / rim->bending_lateral}});
  expect_rows({.unit = "N m²", .source = "wheel-thesis"},
              {{"2.17 torsion", "torsion found from those tones", 26.3, 0.001, rim->torsion}});
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
  expect_rows({.unit = "mm", .source = "ring"},
              {{"2.18", "bare reference rim squeezed by 100 N", 3.766, 0.001,
                rim_squeeze(kReference, 100 * newton)->in(mm)}});
}

TEST(Rim, BucklesInItsPlaneAsTheClassicsSay) {
  const double hub = flat_ring_buckling(0.38, false);
  expect_rows({.source = "ring"}, {{"2.24", "pull that buckles a flat spoked ring, torsion 0.38",
                                    1.8095, 0.0001, hub}});
  expect_row({.row = "2.25",
              .of = "the same over that of a pull that keeps its direction, 4/3",
              .expected = 1.333333,
              .tolerance = 1e-6,
              .ours = hub / flat_ring_buckling(0.38, true),
              .tag = Tag::kFound,
              .source = "ring"});
}

}  // namespace
}  // namespace rollwright::mech
