#include <gtest/gtest.h>

#include <cmath>

#include "mech/trials/reference_wheel.hpp"
#include "mech/wheel_model.hpp"

namespace rollwright::mech {
namespace {

using namespace trials;

TEST(WheelModel, ConvergesAsItsHeaderSays) {
  for (const auto direction : {kLateral, kRadial}) {
    const double full = reference_model(1000 * newton, 110).stiffness(direction, {});
    EXPECT_NEAR(reference_model(1000 * newton, 48).stiffness(direction, {}) / full, 1, 0.005);
  }
}

TEST(WheelModel, TakesTwoToOneAndOffsetRims) {
  LacedWheel wheel = dished_rear();
  wheel.left.flange = {.circle = 45 * mm, .offset = 37 * mm, .holes = 8, .crosses = 1};
  wheel.nipples_towards_left = 2 * mm;
  const auto spokes = laced(wheel);
  ASSERT_TRUE(spokes) << spokes.error().full();
  ASSERT_EQ(spokes->size(), 24u);
  for (std::size_t i = 0; i < spokes->size(); ++i) {
    EXPECT_EQ((*spokes)[i].end, i % 3 == 0 ? WheelEnd::kLeft : WheelEnd::kRight);
  }
  // Offset to the left flattens left spokes and splays right ones.
  EXPECT_NEAR((*spokes)[0].lateral * (*spokes)[0].path.in(mm), 35, 1e-9);
  EXPECT_NEAR((*spokes)[1].lateral * (*spokes)[1].path.in(mm), -20, 1e-9);
  const auto model = WheelModel::of(reference_rim(), *spokes);
  ASSERT_TRUE(model) << model.error().full();
  EXPECT_GT(model->stiffness(kLateral, {}), 10);
}

TEST(WheelModel, LacesTheLengthsOfTheSpokeEquation) {
  const LacedWheel wheel = dished_rear();
  const auto spokes = laced(wheel);
  const auto lines = wheel_spokes(
      {.left = wheel.left.flange, .right = wheel.right.flange, .rim_diameter = 608 * mm});
  for (const WheelSpoke& spoke : *spokes) {
    const SpokeLine& line = spoke.end == WheelEnd::kLeft ? lines->left : lines->right;
    EXPECT_NEAR(spoke.path.in(mm), line.path.in(mm), 1e-9);
    EXPECT_NEAR(std::fabs(spoke.tangential), std::fabs(line.tangential), 1e-12);
    EXPECT_NEAR(std::fabs(spoke.lateral), line.lateral, 1e-12);
  }
}

TEST(WheelBuckling, IsWhereTheModelStopsStanding) {
  const double smeared_n = buckling(reference_bed({})).mean_tension.in(newton);
  double stands = 500, falls = 4000;
  while (falls - stands > 1) {
    const double middle = (stands + falls) / 2;
    const auto wheel = WheelModel::of(reference_rim(), reference_spokes(middle * newton),
                                      {.elbow_factor = kTheory, .waves = 24});
    (wheel ? stands : falls) = middle;
  }
  EXPECT_NEAR(stands / smeared_n, 1, 0.05);
}

TEST(WheelBuckling, LiesBelowTheStiffSpokeLimitsOrderOfMagnitude) {
  // Limits found in [wheel-thesis]: each is approached at its own end.
  RimSection limp = reference_rim();
  limp.torsion = 0.1;
  const auto soft = smeared(limp, reference_spokes({}), kTheory);
  EXPECT_NEAR(buckling(*soft).line_tension / buckling_of_limp_rim(*soft), 1, 0.25);
  RimSection stiff_twist = reference_rim();
  stiff_twist.torsion = 1e5;
  stiff_twist.bending_lateral = 5;
  const auto hard = smeared(stiff_twist, reference_spokes({}, 0.12), kTheory);
  EXPECT_NEAR(buckling(*hard).line_tension / buckling_on_stiff_spokes(*hard), 1, 0.1);
}

TEST(WheelModel, IsSofterWithLooseElbows) {
  const auto loose = WheelModel::of(reference_rim(), reference_spokes(1000 * newton),
                                    {.elbow_factor = 0.65, .waves = 48});
  EXPECT_LT(loose->stiffness(kLateral, {}), reference_model(1000 * newton).stiffness(kLateral, {}));
  EXPECT_NEAR(loose->stiffness(kRadial, {}) /
                  reference_model(1000 * newton).stiffness(kRadial, {}),
              1, 0.02);
}

TEST(WheelModel, FollowsABentRimWhereTheRimIsStiffer) {
  const WheelModel wheel = reference_model(1000 * newton);
  for (int waves = 2; waves <= 8; ++waves) {
    const WheelShape shape = wheel.with_bend({.direction = kLateral, .waves = waves});
    const double taken = wheel.move(shape, kLateral, {});
    EXPECT_GT(taken, 0);
    if (waves >= 5) {
      EXPECT_NEAR(taken, 1, 0.15) << waves;
    }
    const WheelShape egg = wheel.with_bend({.direction = kRadial, .waves = waves, .sine = true});
    const double low = wheel.move(egg, kRadial, 90.0 / waves * degree);
    const double rim = (waves * waves - 1.0) * (waves * waves - 1.0) * 111;
    const double bed = reference_bed(1000 * newton).radial * std::pow(0.304, 4);
    EXPECT_NEAR(low, rim / (rim + bed), 0.03) << waves;
  }
}

TEST(WheelModel, RefusesWhatDoesNotStand) {
  const auto slack = WheelModel::of(reference_rim(), reference_spokes({}));
  ASSERT_FALSE(slack);
  EXPECT_EQ(slack.error().code, Code::kContradiction);
  EXPECT_FALSE(WheelModel::of(reference_rim(), {}));
  auto spokes = reference_spokes(1000 * newton);
  EXPECT_FALSE(WheelModel::of(reference_rim(), spokes, {.waves = 4}));
  EXPECT_FALSE(WheelModel::of(reference_rim(), spokes, {.elbow_factor = 1.5}));
  spokes[3].tension = -1 * newton;
  EXPECT_EQ(WheelModel::of(reference_rim(), spokes).error().place.field, "spoke tension");
  EXPECT_FALSE(spokes_in_place({{}, {}}));
}

}  // namespace
}  // namespace rollwright::mech
