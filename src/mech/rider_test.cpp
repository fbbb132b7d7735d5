#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "base/random.hpp"
#include "mech/axle_load.hpp"
#include "mech/bike_outline.hpp"
#include "mech/rider_fit.hpp"
#include "mech/suspension.hpp"
#include "mech/trials/checked.hpp"

namespace rollwright::mech {
namespace {

using trials::expect_row;

struct InseamRow {
  const char* row;
  double inseam_cm, by_bracket_cm, by_pedal_cm;
};

// Rows 9.1 to 9.3, derived from the two rules of [saddle-height]; printed to 0.01 cm.
constexpr InseamRow kInseamRows[] = {
    {"9.1", 82, 72.41, 89.38}, {"9.2", 78, 68.87, 85.02}, {"9.3", 86, 75.94, 93.74}};

void expect_height(const std::string& row, const std::string& of, double expected, Length ours) {
  expect_row({.row = row,
              .of = of,
              .unit = "cm",
              .expected = expected,
              .tolerance = 0.0051,
              .ours = ours.in(cm),
              .source = "saddle-height"});
}

TEST(SaddleHeight, AgreesWithTheCheckValues) {
  for (const InseamRow& row : kInseamRows) {
    const auto height = saddle_height(row.inseam_cm * cm, 172.5 * mm);
    ASSERT_TRUE(height);
    const std::string inseam = ", inseam " + std::to_string(std::lround(row.inseam_cm)) + " cm";
    expect_height(row.row + std::string(" bracket"), "saddle over the bottom bracket" + inseam,
                  row.by_bracket_cm, height->by_bracket);
    expect_height(row.row + std::string(" pedal"), "saddle over the pedal" + inseam,
                  row.by_pedal_cm, height->by_pedal);
  }
  expect_height("9.1 less the crank", "the same less a crank of 172.5 mm, inseam 82 cm", 72.13,
                saddle_height(82 * cm, 172.5 * mm)->by_pedal_from_bracket);
  EXPECT_EQ(saddle_height(82 * mm, 172.5 * mm).error().code, Code::kOutOfRange);
}

TEST(Standover, WantsAnInch) {
  EXPECT_TRUE(standover(800 * mm, 770 * mm)->holds);
  EXPECT_FALSE(standover(800 * mm, 780 * mm)->holds);
  EXPECT_NEAR(standover(750 * mm, 780 * mm)->room.in(mm), -30, 1e-9);
}

TEST(BarPoint, FollowsTheStemAsASketchDoes) {
  // A stem square to an upright-ish steerer: head 90 is out of range, so 72 degrees worked by hand:
  // spacers 30 go back 9.271 and up 28.532; a 100 mm stem of -6 degrees rises 12 degrees.
  const auto bar = bar_point({560 * mm, 385 * mm, 72 * degree, 30 * mm, 100 * mm, -6 * degree});
  ASSERT_TRUE(bar);
  EXPECT_NEAR(bar->x.in(mm), 385 - 9.271 + 97.815, 0.001);
  EXPECT_NEAR(bar->y.in(mm), 560 + 28.532 + 20.791, 0.001);
  // A stem of -18 degrees on that steerer lies level.
  const auto level = bar_point({560 * mm, 385 * mm, 72 * degree, {}, 100 * mm, -18 * degree});
  EXPECT_NEAR(level->y.in(mm), 560, 1e-9);
  EXPECT_NEAR(level->x.in(mm), 485, 1e-9);
}

// An invented trekking frame; its fork is 1 mm off the length that meets the axle height exactly.
OutlineInput trekking() {
  return {.frame = {.stack = 620 * mm,
                    .reach = 385 * mm,
                    .head_angle = 70 * degree,
                    .seat_angle = 73 * degree,
                    .seat_tube = 500 * mm,
                    .head_tube = 165 * mm,
                    .chainstay = 450 * mm,
                    .bracket_drop = 65 * mm},
          .wheelbase = std::nullopt,
          .fork = ForkGeometry{.length = 434 * mm, .offset = 50 * mm, .lower_stack = 12 * mm},
          .front = {.tyre_diameter = 716 * mm, .rim_diameter = 622 * mm},
          .rear = {.tyre_diameter = 716 * mm, .rim_diameter = 622 * mm},
          .saddle_height = 720 * mm,
          .spacers = 40 * mm,
          .stem = 90 * mm,
          .stem_angle = 10 * degree,
          .crank = 170 * mm};
}

TEST(BikeOutline, IsConsistentWithItsInput) {
  const OutlineInput input = trekking();
  const auto outline = bike_outline(input);
  ASSERT_TRUE(outline) << outline.error().full();
  const SidePoint rear = *outline->point("rear axle");
  const SidePoint front = *outline->point("front axle");
  EXPECT_NEAR(std::hypot(rear.x.in(mm), rear.y.in(mm)), 450, 1e-9);
  EXPECT_NEAR(rear.y.in(mm), 65, 1e-9);
  EXPECT_NEAR((front.x - rear.x).in(mm), outline->wheelbase.in(mm), 1e-9);
  EXPECT_NEAR((rear.y - outline->ground).in(mm), 358, 1e-9);
  EXPECT_NEAR((front.y - outline->ground).in(mm), 358, 1e-9);
  const SidePoint top = *outline->point("head tube top");
  const SidePoint bottom = *outline->point("head tube bottom");
  EXPECT_NEAR(std::hypot((top.x - bottom.x).in(mm), (top.y - bottom.y).in(mm)), 165, 1e-9);
  EXPECT_NEAR(std::atan2((top.y - bottom.y).in(mm), (bottom.x - top.x).in(mm)),
              (70 * degree).in(radian), 1e-12);
  const SidePoint saddle = *outline->point("saddle");
  EXPECT_NEAR(std::hypot(saddle.x.in(mm), saddle.y.in(mm)), 720, 1e-9);
  EXPECT_EQ(outline->point("left pedal"), nullptr);
  EXPECT_EQ(outline->circles.size(), 5u);
}

TEST(BikeOutline, TrailIsTheTextbookFormula) {
  // Trail = (wheel radius * cos(head) - offset) / sin(head), handbook geometry (from memory), when
  // the fork lands exactly on the axle height; here it is 1 mm off.
  const OutlineInput input = trekking();
  const auto outline = bike_outline(input);
  ASSERT_TRUE(outline);
  const double head = input.frame.head_angle.in(radian);
  const double textbook = (358 * std::cos(head) - 50) / std::sin(head);
  EXPECT_NEAR(outline->trail.in(mm), textbook, 0.5);
}

TEST(BikeOutline, WheelbaseAndForkMustAgree) {
  OutlineInput input = trekking();
  const Length by_fork = bike_outline(input)->wheelbase;
  input.wheelbase = by_fork + 5 * mm;
  ASSERT_TRUE(bike_outline(input));
  EXPECT_NEAR(bike_outline(input)->wheelbase.in(mm), by_fork.in(mm) + 5, 1e-9);
  input.wheelbase = by_fork + 30 * mm;
  ASSERT_FALSE(bike_outline(input));
  EXPECT_EQ(bike_outline(input).error().code, Code::kContradiction);
  EXPECT_EQ(bike_outline(input).error().place.field, "wheelbase");
  input.fork.reset();
  EXPECT_TRUE(bike_outline(input)) << "the wheelbase alone will do";
  input.wheelbase.reset();
  EXPECT_EQ(bike_outline(input).error().code, Code::kBadInput);
}

TEST(BikeOutline, DrawsUnequalWheelsOnLevelGround) {
  OutlineInput input = trekking();
  input.fork.reset();
  input.wheelbase = 1900 * mm;
  input.front = {.tyre_diameter = 500 * mm, .rim_diameter = 406 * mm};
  const auto outline = bike_outline(input);
  ASSERT_TRUE(outline) << outline.error().full();
  EXPECT_NEAR((outline->point("front axle")->y - outline->ground).in(mm), 250, 1e-9);
  EXPECT_NEAR((outline->point("rear axle")->y - outline->ground).in(mm), 358, 1e-9);
}

TEST(AxleLoads, BalanceAboutBothAxles) {
  // Worked by hand: 80 kg rider 660 mm behind the front axle of a 1100 mm wheelbase puts 48 kg on
  // the rear wheel; 10 kg over the front axle stay there.
  const auto loads = axle_loads({{"rider", 80 * kg, 660 * mm}, {"basket", 10 * kg, {}}}, 1100 * mm);
  ASSERT_TRUE(loads);
  EXPECT_NEAR(loads->rear.in(kg), 48, 1e-9);
  EXPECT_NEAR(loads->front.in(kg), 42, 1e-9);
  const auto far_back = axle_loads({{"child seat", 22 * kg, 1500 * mm}}, 1100 * mm);
  EXPECT_LT(far_back->front.in(kg), 0) << "the bike would rear up";
  const auto bad = axle_loads({{"crate", -3 * kg, {}}}, 1100 * mm);
  EXPECT_EQ(bad.error().place.field, "crate mass");
}

TEST(Suspension, AgreesWithTheCheckValues) {
  expect_row({.row = "9.4",
              .of = "sag of 30 % on 140 mm of travel",
              .unit = "mm",
              .expected = 42,
              .tolerance = 0.001,
              .ours = sag(140 * mm, 0.3)->in(mm),
              .source = "suspension"});
  const auto rate = coil_rate_n_per_mm(
      {.wheel_force = 600 * newton, .leverage = 2.5, .stroke = 55 * mm, .share = 0.3});
  ASSERT_TRUE(rate);
  expect_row({.row = "9.5",
              .of = "coil for 600 N at the wheel, leverage 2.5, 30 % of 55 mm",
              .unit = "N/mm",
              .expected = 90.9,
              .tolerance = 0.05,
              .ours = *rate,
              .source = "suspension"});
  EXPECT_FALSE(sag(140 * mm, 3));
}

struct Contradiction {
  const char* name;
  void (*change)(OutlineInput&);
  const char* field;
};

TEST(BikeOutline, RefusesGeometryThatContradictsItself) {
  const Contradiction rows[] = {
      {"fork too long", [](OutlineInput& i) { i.fork->length = 520 * mm; }, "fork length"},
      {"small front tyre",
       [](OutlineInput& i) {
         i.front = {500 * mm, 406 * mm};
       },
       "fork length"},
      {"tyre over bracket", [](OutlineInput& i) { i.frame.chainstay = 350 * mm; }, "chainstay"},
      {"tyres overlap",
       [](OutlineInput& i) {
         i.fork.reset();
         i.wheelbase = 710 * mm;
       },
       "wheelbase"},
      {"long crank",
       [](OutlineInput& i) {
         i.fork.reset();
         i.wheelbase = 1100 * mm;
         i.frame.bracket_drop = 110 * mm;
         i.front = i.rear = {500 * mm, 406 * mm};
       },
       "crank length"},
      {"rim over tyre", [](OutlineInput& i) { i.rear.rim_diameter = 720 * mm; }, "rim diameter"},
      {"saddle in the tube", [](OutlineInput& i) { i.saddle_height = 450 * mm; }, "saddle height"},
  };
  for (const Contradiction& row : rows) {
    SCOPED_TRACE(row.name);
    OutlineInput input = trekking();
    row.change(input);
    const auto outline = bike_outline(input);
    ASSERT_FALSE(outline);
    EXPECT_EQ(outline.error().code, Code::kContradiction) << outline.error().full();
    EXPECT_EQ(outline.error().place.field, row.field) << outline.error().full();
  }
  OutlineInput input = trekking();
  input.frame.stack = std::nan("") * mm;
  EXPECT_EQ(bike_outline(input).error().code, Code::kOutOfRange);
}

TEST(BikeOutline, SteeperHeadGivesLessTrail) {
  Random random(23);
  int compared = 0;
  for (int i = 0; i < 300; ++i) {
    OutlineInput input = trekking();
    input.fork->offset = (40 + 20 * random.uniform()) * mm;
    const double head = 66 + 8 * random.uniform();
    const auto outline_at = [&input](double degrees) {
      OutlineInput turned = input;
      turned.frame.head_angle = degrees * degree;
      return bike_outline(turned);
    };
    const auto slack = outline_at(head);
    const auto steep = outline_at(head + 0.5);
    if (!slack || !steep) continue;  // this head angle and fork do not meet the ground
    EXPECT_LT(steep->trail, slack->trail) << "seed 23, case " << i;
    ++compared;
  }
  EXPECT_GT(compared, 50);
}

}  // namespace
}  // namespace rollwright::mech
