#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "base/random.hpp"
#include "mech/nipple_thread.hpp"
#include "mech/spoke_length.hpp"
#include "mech/spoke_stretch.hpp"
#include "mech/tension_ratio.hpp"
#include "mech/trials/checked.hpp"

namespace rollwright::mech {
namespace {

using trials::expect_row;
using trials::Tag;

struct SpokeRow {
  std::string name;
  std::string of;
  WheelSide side;
  double length_mm;
  double bracing_deg;  // 0 when the row gives none
};

// Inputs of row 1.1: encyclopaedia article "Spoke". All results: derived from the equation of
// [spoke-geometry] by an independent script in double precision, rounded to 0.001 mm.
const SpokeRow kSpokeRows[] = {
    {"1.1",
     "narrow flanges, 36 spokes crossed three times",
     {.flange_circle = 39 * mm,
      .flange_offset = 30 * mm,
      .rim_diameter = 602 * mm,
      .spoke_hole = 2.2 * mm,
      .holes = 18,
      .crosses = 3},
     292.178,
     0},
    {"1.2",
     "front wheel, 32 spokes crossed three times",
     {.flange_circle = 38 * mm,
      .flange_offset = 35 * mm,
      .rim_diameter = 602 * mm,
      .spoke_hole = 2.6 * mm,
      .holes = 16,
      .crosses = 3},
     295.027,
     6.783},
    {"1.3",
     "front wheel, 32 radial spokes",
     {.flange_circle = 38 * mm,
      .flange_offset = 35 * mm,
      .rim_diameter = 602 * mm,
      .spoke_hole = 2.6 * mm,
      .holes = 16,
      .crosses = 0},
     282.864,
     7.075},
    {"1.4",
     "rear wheel, right side",
     {.flange_circle = 45 * mm,
      .flange_offset = 18 * mm,
      .rim_diameter = 602 * mm,
      .spoke_hole = 2.6 * mm,
      .holes = 16,
      .crosses = 3},
     292.380,
     3.514},
    {"1.5",
     "rear wheel, left side",
     {.flange_circle = 45 * mm,
      .flange_offset = 37 * mm,
      .rim_diameter = 602 * mm,
      .spoke_hole = 2.6 * mm,
      .holes = 16,
      .crosses = 3},
     294.154,
     7.194},
    {"1.6 right",
     "the same right side, nipples 3 mm to the left",
     {.flange_circle = 45 * mm,
      .flange_offset = 18 * mm,
      .rim_diameter = 602 * mm,
      .nipples_towards = -3 * mm,
      .spoke_hole = 2.6 * mm,
      .holes = 16,
      .crosses = 3},
     292.579,
     4.098},
    {"1.6 left",
     "the same left side, nipples 3 mm to the left",
     {.flange_circle = 45 * mm,
      .flange_offset = 37 * mm,
      .rim_diameter = 602 * mm,
      .nipples_towards = 3 * mm,
      .spoke_hole = 2.6 * mm,
      .holes = 16,
      .crosses = 3},
     293.793,
     6.616},
    {"1.7 one cross",
     "motor hub in a small rim, one cross",
     {.flange_circle = 135 * mm,
      .flange_offset = 22 * mm,
      .rim_diameter = 387 * mm,
      .spoke_hole = 3.2 * mm,
      .holes = 18,
      .crosses = 1},
     132.323,
     0},
    {"1.8",
     "36 spokes crossed four times",
     {.flange_circle = 58 * mm,
      .flange_offset = 32 * mm,
      .rim_diameter = 539 * mm,
      .spoke_hole = 2.6 * mm,
      .holes = 18,
      .crosses = 4},
     266.620,
     0},
    {"1.9",
     "28 spokes crossed twice",
     {.flange_circle = 57 * mm,
      .flange_offset = 34 * mm,
      .rim_diameter = 596 * mm,
      .spoke_hole = 2.5 * mm,
      .holes = 14,
      .crosses = 2},
     281.914,
     0},
};

TEST(SpokeLength, AgreesWithTheCheckValues) {
  for (const SpokeRow& row : kSpokeRows) {
    SCOPED_TRACE(row.name);
    const auto line = spoke_length(row.side);
    ASSERT_TRUE(line) << line.error().full();
    expect_row({.row = row.name + " length",
                .of = "J-bend spoke: " + row.of,
                .unit = "mm",
                .expected = row.length_mm,
                .tolerance = 0.001,
                .ours = line->length.in(mm),
                .source = "spoke-geometry"});
    if (row.bracing_deg > 0) {
      expect_row({.row = row.name + " angle",
                  .of = "bracing angle: " + row.of,
                  .unit = "°",
                  .expected = row.bracing_deg,
                  .tolerance = 0.001,
                  .ours = line->bracing.in(degree),
                  .source = "spoke-geometry"});
    }
    const double shares = line->lateral * line->lateral + line->radial * line->radial +
                          line->tangential * line->tangential;
    EXPECT_NEAR(shares, 1, 1e-12);
  }
}

TEST(SpokeLength, OfTwoCrossesIsNotTheOnePrintedForThem) {
  const auto line = spoke_length({.flange_circle = 135 * mm,
                                  .flange_offset = 22 * mm,
                                  .rim_diameter = 387 * mm,
                                  .spoke_hole = 3.2 * mm,
                                  .holes = 18,
                                  .crosses = 2});
  ASSERT_TRUE(line);
  // The reasoned value by hand: sqrt(42482.5 - 26122.5 cos 40 degrees) - 1.6.
  expect_row({.row = "1.7 two crosses length",
              .of = "J-bend spoke: motor hub in a small rim, two crosses",
              .unit = "mm",
              .expected = 132.323,
              .tolerance = 0.001,
              .ours = line->length.in(mm),
              .source = "spoke-geometry",
              .why = "The length given beside two crosses is that of one cross (the row above); "
                     "the equation beside it gives 148.305 mm for two.",
              .reasoned = 148.305,
              .reasoned_tolerance = 0.001});
}

TEST(SpokeLength, AgreesForStraightPull) {
  const auto line = straight_pull_length(
      {.axis_circle_radius = 20 * mm, .flange_offset = 35 * mm, .rim_diameter = 602 * mm});
  ASSERT_TRUE(line);
  expect_row({.row = "1.10",
              .of = "straight-pull spoke, tangent point to end",
              .unit = "mm",
              .expected = 302.367,
              .tolerance = 0.001,
              .ours = line->length.in(mm),
              .source = "spoke-geometry"});
}

TEST(SpokeLength, RefusesMoreCrossesThanTheFlangeCanHold) {
  WheelSide side = kSpokeRows[1].side;
  side.crosses = 5;
  const auto line = spoke_length(side);
  ASSERT_FALSE(line);
  EXPECT_EQ(line.error().code, Code::kContradiction);
  EXPECT_NE(line.error().sentence.find("3 crosses are the most"), std::string::npos);
}

TEST(SpokeLength, RefusesCrossedLacingOfAnOddFlange) {
  WheelSide side = kSpokeRows[1].side;
  side.holes = 15;
  EXPECT_EQ(spoke_length(side).error().code, Code::kContradiction);
  side.crosses = 0;
  EXPECT_TRUE(spoke_length(side));
}

TEST(SpokeLength, RefusesAFlangeThatIsNotSmallerThanTheRim) {
  WheelSide side = kSpokeRows[1].side;
  side.flange_circle = 200 * mm;
  side.rim_diameter = 180 * mm;
  EXPECT_EQ(spoke_length(side).error().code, Code::kContradiction);
}

TEST(SpokeLength, RefusesFieldsOutsideTheirRangeByName) {
  WheelSide side = kSpokeRows[1].side;
  side.rim_diameter = std::nan("") * mm;
  ASSERT_FALSE(spoke_length(side));
  EXPECT_EQ(spoke_length(side).error().code, Code::kOutOfRange);
  EXPECT_EQ(spoke_length(side).error().place.field, "effective rim diameter");
  side.rim_diameter = 6020 * mm;
  EXPECT_NE(spoke_length(side).error().sentence.find("6020"), std::string::npos);
}

TEST(SpokeLength, KnowsTheMostCrossesPerCount) {
  // Table of section 1.2: whole-wheel count, usual hub, big hub motor in a small rim. Derived.
  struct Row {
    int spokes, usual, motor;
  };
  for (const Row row : {Row{16, 1, 1},
                        {20, 2, 1},
                        {24, 2, 2},
                        {28, 3, 2},
                        {32, 3, 3},
                        {36, 4, 3},
                        {40, 4, 3},
                        {48, 5, 4}}) {
    SCOPED_TRACE(row.spokes);
    EXPECT_EQ(*most_crosses(58 * mm, 600 * mm, row.spokes / 2), row.usual);
    const std::string number = "1.20 " + std::to_string(row.spokes);
    const std::string of = "most crosses, " + std::to_string(row.spokes) + " spokes, ";
    expect_row({.row = number + " usual",
                .of = of + "usual hub",
                .expected = static_cast<double>(row.usual),
                .tolerance = 0.1,
                .ours = static_cast<double>(*most_crosses(45 * mm, 600 * mm, row.spokes / 2)),
                .source = "spoke-geometry"});
    expect_row({.row = number + " motor",
                .of = of + "motor hub in a small rim",
                .expected = static_cast<double>(row.motor),
                .tolerance = 0.1,
                .ours = static_cast<double>(*most_crosses(135 * mm, 387 * mm, row.spokes / 2)),
                .source = "spoke-geometry"});
  }
}

TEST(SpokeLength, GrowsWithEveryCross) {
  Random random(20260101);
  RecordProperty("seed", 20260101);
  for (int i = 0; i < 2000; ++i) {
    WheelSide side{.flange_circle = (30 + 70 * random.uniform()) * mm,
                   .flange_offset = (10 + 40 * random.uniform()) * mm,
                   .rim_diameter = (350 + 280 * random.uniform()) * mm,
                   .holes = 8 + 2 * static_cast<int>(random.below(9))};
    const int most = *most_crosses(side.flange_circle, side.rim_diameter, side.holes);
    double before = 0;
    for (int half = 0; half <= 2 * most; ++half) {
      side.crosses = half / 2.0;
      const auto line = spoke_length(side);
      ASSERT_TRUE(line) << "seed 20260101, case " << i << ": " << line.error().full();
      ASSERT_GT(line->length.in(mm), before) << "seed 20260101, case " << i;
      before = line->length.in(mm);
    }
  }
}

TEST(SpokeLength, IsTheSameWhenTheWholeWheelTurns) {
  Random random(7);
  for (int i = 0; i < 500; ++i) {
    const double phase = 6 * random.uniform();
    const SpokeEnds ends{.hub_radius = 22.5 * mm,
                         .hub_angle = 1.1 * radian,
                         .hub_across = 30 * mm,
                         .rim_radius = 301 * mm,
                         .rim_angle = 0.2 * radian,
                         .rim_across = 2 * mm};
    SpokeEnds turned = ends;
    turned.hub_angle += phase * radian;
    turned.rim_angle += phase * radian;
    EXPECT_NEAR(spoke_between(ends)->length.in(mm), spoke_between(turned)->length.in(mm), 1e-9)
        << "seed 7, case " << i;
  }
}

TEST(SpokeLength, MovesAsTheStatedSensitivities) {
  WheelSide side = kSpokeRows[1].side;
  const double before = spoke_length(side)->length.in(mm);
  side.rim_diameter += 1 * mm;
  expect_row({.row = "1.21",
              .of = "longer spoke for 1 mm of effective rim diameter, 0.48 to 0.5",
              .unit = "mm",
              .expected = 0.49,
              .tolerance = 0.02,
              .ours = spoke_length(side)->length.in(mm) - before,
              .source = "spoke-geometry"});
}

WheelGeometry rear_wheel() {
  return {.left = {45 * mm, 37 * mm, 16, 3},
          .right = {45 * mm, 18 * mm, 16, 3},
          .rim_diameter = 602 * mm,
          .spoke_hole = 2.6 * mm};
}

TEST(WheelSpokes, GivesBothSides) {
  const auto spokes = wheel_spokes(rear_wheel());
  ASSERT_TRUE(spokes);
  EXPECT_NEAR(spokes->left.length.in(mm), 294.154, 0.001);
  EXPECT_NEAR(spokes->right.length.in(mm), 292.380, 0.001);
}

TEST(WheelSpokes, NamesTheSideInTrouble) {
  WheelGeometry wheel = rear_wheel();
  wheel.left.crosses = 4;
  EXPECT_EQ(wheel_spokes(wheel).error().sentence.rfind("Left side:", 0), 0u);
  wheel = rear_wheel();
  wheel.left.holes = 12;
  EXPECT_EQ(wheel_spokes(wheel).error().code, Code::kContradiction);
}

void expect_ratio(const char* row, const char* of, double expected, const WheelSpokes& spokes,
                  Tag tag = Tag::kDerived) {
  expect_row({.row = row,
              .of = std::string("tension left over right: ") + of,
              .expected = expected,
              .tolerance = 0.0001,
              .ours = *tension_left_over_right(spokes),
              .tag = tag,
              .source = "tension-balance"});
}

TEST(TensionRatio, AgreesWithTheCheckValues) {
  WheelGeometry wheel = rear_wheel();
  expect_ratio("1.16", "the rear wheel of rows 1.4 and 1.5", 0.4894, *wheel_spokes(wheel));
  wheel.nipples_towards_left = 3 * mm;
  expect_ratio("1.17", "the same, nipples 3 mm to the left", 0.6202, *wheel_spokes(wheel));
  wheel.left.offset = wheel.right.offset = 30 * mm;
  wheel.nipples_towards_left = {};
  expect_ratio("1.19", "a symmetric wheel", 1, *wheel_spokes(wheel), Tag::kIdentity);
  // 2:1 lacing with the same spoke lines, so the counts are set on the finished lines.
  WheelSpokes triplet = *wheel_spokes(rear_wheel());
  triplet.left_count = 8;
  expect_row({.row = "1.18",
              .of = "tension left over right: 16 right and 8 left spokes",
              .expected = 0.9770,
              .tolerance = 0.0001,
              .ours = *tension_left_over_right(triplet),
              .source = "tension-balance",
              .why = "Half the spokes carry twice the tension, so the balance gives twice row "
                     "1.16, 0.9788; the value given is 0.2 % lower.",
              .reasoned = 2 * 0.4894,
              .reasoned_tolerance = 0.0002});
}

TEST(TensionRatio, RefusesAFlangeInsideTheNipples) {
  WheelGeometry wheel = rear_wheel();
  wheel.right.offset = -5 * mm;
  const auto spokes = wheel_spokes(wheel);
  ASSERT_TRUE(spokes);
  EXPECT_EQ(tension_left_over_right(*spokes).error().code, Code::kOutOfRange);
}

TEST(TensionTargets, KeepEverySpokeUnderTheRimLimit) {
  const auto targets =
      tension_targets(*wheel_spokes(rear_wheel()), {.rim_limit = 1200 * newton, .spread = 0.2});
  ASSERT_TRUE(targets);
  EXPECT_NEAR(targets->right.in(newton) * 1.2, 1200, 1e-9);
  EXPECT_NEAR(targets->left / targets->right, targets->left_over_right, 1e-12);
  WheelGeometry mirrored = rear_wheel();
  std::swap(mirrored.left, mirrored.right);
  const auto other = tension_targets(*wheel_spokes(mirrored), {.rim_limit = 1200 * newton});
  EXPECT_NEAR(other->left.in(newton), targets->right.in(newton), 1e-9);
}

TEST(TensionTargets, KnowTheLoadThatFreesASpoke) {
  // [wheel-thesis]: 500 N on a point needs at least 220 N.
  EXPECT_NEAR(load_until_slack(220 * newton)->in(newton), 500, 1e-9);
  EXPECT_FALSE(load_until_slack(-1 * newton));
}

TEST(SpokeLength, LeavesRoomBesideTheHeadsUntilTheLastCross) {
  WheelSide side{
      .flange_circle = 58 * mm, .flange_offset = 32 * mm, .rim_diameter = 600 * mm, .holes = 18};
  // Radial: the neighbour is a chord away, 58 sin(10 degrees).
  side.crosses = 0;
  EXPECT_NEAR(room_beside_heads(side)->in(mm), 58 * std::sin(3.14159265358979 / 18), 1e-9);
  double before = 100;
  for (int crosses = 0; crosses <= 4; ++crosses) {
    side.crosses = crosses;
    const double room = room_beside_heads(side)->in(mm);
    EXPECT_LT(room, before + 1e-9);
    before = room;
  }
  EXPECT_LT(before, 3) << "four crosses on 36 spokes lie on the neighbour's head";
}

TEST(StockLength, PrefersTheLengthBelow) {
  const std::vector<Length> stock = {290 * mm, 292 * mm, 293 * mm, 294 * mm};
  EXPECT_EQ(stock_length(292.9 * mm, stock)->length, 292 * mm);
  EXPECT_EQ(stock_length(293 * mm, stock)->length, 293 * mm);
  EXPECT_EQ(stock_length(291.6 * mm, stock)->length, 292 * mm);
  EXPECT_NEAR(stock_length(291.6 * mm, stock)->difference.in(mm), 0.4, 1e-9);
}

TEST(StockLength, NamesTheNearestWhenNoneWillDo) {
  const auto none = stock_length(291.4 * mm, {290 * mm, 292 * mm});
  ASSERT_FALSE(none);
  EXPECT_EQ(none.error().code, Code::kNotFound);
  EXPECT_NE(none.error().sentence.find("290 mm and 292 mm"), std::string::npos);
  EXPECT_FALSE(stock_length(291 * mm, {}));
}

TEST(SpokeStretch, AgreesWithPublishedValues) {
  const auto plain = spoke_spring({{300 * mm, 2 * mm}}, 210 * gigapascal);
  expect_row({.row = "1.11",
              .of = "stretch of 300 mm of 2 mm steel at 630 N",
              .unit = "mm",
              .expected = 0.287,
              .tolerance = 0.001,
              .ours = spoke_stretch(*plain, 630 * newton)->in(mm),
              .tag = Tag::kFoundDerived,
              .source = "spoke-stretch"});
  expect_row({.row = "1.12",
              .of = "force at half the yield of 400 MPa, 2 mm spoke",
              .unit = "N",
              .expected = 628,
              .tolerance = 0.5,
              .ours = spoke_force_at(200 * megapascal, 2 * mm)->in(newton),
              .tag = Tag::kFoundDerived,
              .source = "spoke-stretch"});
  const auto second = spoke_spring({{290 * mm, 2 * mm}}, 200 * gigapascal);
  expect_row({.row = "1.13",
              .of = "stretch of 290 mm of 2 mm steel at 1000 N",
              .unit = "mm",
              .expected = 0.4615,
              .tolerance = 0.00005,
              .ours = spoke_stretch(*second, 1000 * newton)->in(mm),
              .source = "spoke-stretch"});
  const auto butted = spoke_spring({{71 * mm, 1.99 * mm}, {205 * mm, 1.72 * mm}}, 210 * gigapascal);
  expect_row({.row = "1.14 EA",
              .of = "stiffness of a butted spoke as of a plain one, E A",
              .unit = "kN",
              .expected = 521.9,
              .tolerance = 0.1,
              .ours = butted->rigidity.in(newton) / 1000,
              .tag = Tag::kFoundDerived,
              .source = "wheel-thesis"});
  expect_row({.row = "1.14 diameter",
              .of = "diameter of that plain spoke",
              .unit = "mm",
              .expected = 1.779,
              .tolerance = 0.001,
              .ours = butted->diameter.in(mm),
              .tag = Tag::kFoundDerived,
              .source = "wheel-thesis"});
}

TEST(RimShrink, AgreesWithTheCheckValue) {
  const auto rim = rim_shrink(
      {.spokes = 36, .tension = 1000 * newton, .radius = 300 * mm, .rigidity = 6.9e6 * newton});
  expect_row({.row = "1.15 hoop",
              .of = "hoop force of 36 spokes at 1000 N",
              .unit = "N",
              .expected = 5730,
              .tolerance = 0.5,
              .ours = rim->hoop.in(newton),
              .source = "spoke-stretch"});
  expect_row({.row = "1.15 shrink",
              .of = "shrink of that rim's radius",
              .unit = "mm",
              .expected = 0.249,
              .tolerance = 0.0005,
              .ours = rim->shrink.in(mm),
              .source = "spoke-stretch"});
}

TEST(NippleThread, DrawsTheStandardPitchPerTurn) {
  expect_row({.row = "2.37",
              .of = "way of one turn of a nipple, 56 threads to the inch",
              .unit = "mm",
              .expected = 0.453571,
              .tolerance = 0.0000006,
              .ours = kNipplePitch.in(mm),
              .tag = Tag::kFoundDerived,
              .source = "nipple-thread"});
  EXPECT_NEAR(nipple_turns(-0.9071428571 * mm), -2, 1e-9);
}

}  // namespace
}  // namespace rollwright::mech
