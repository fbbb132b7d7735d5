#include "mech/spoke_pitch.hpp"

#include <gtest/gtest.h>

#include "base/random.hpp"

namespace rollwright::mech {
namespace {

struct PitchRow {
  double tension_n, length_mm, diameter_mm;
  double string_hz, pinned_hz, clamped_hz;
};

// Rows 3.1 to 3.6: derived from the equations of [spoke-pitch] for steel, +-0.02 Hz.
constexpr PitchRow kRows[] = {
    {1000, 290, 2.0, 347.19, 350.37, 383.55}, {1000, 290, 1.8, 385.76, 388.09, 417.33},
    {500, 290, 2.0, 245.50, 249.98, 284.76},  {1200, 290, 2.0, 380.32, 383.23, 416.09},
    {1000, 200, 2.0, 503.42, 513.08, 586.50}, {1200, 290, 1.8, 422.58, 424.71, 453.73},
};

SoundingSpoke spoke_of(double length_mm, double diameter_mm, SpokeEndsHeld ends) {
  return {.length = length_mm * mm, .diameter = diameter_mm * mm, .ends = ends};
}

TEST(SpokePitch, AgreesWithTheCheckValues) {
  for (const PitchRow& row : kRows) {
    const std::pair<SpokeEndsHeld, double> cases[] = {{SpokeEndsHeld::kString, row.string_hz},
                                                      {SpokeEndsHeld::kPinned, row.pinned_hz},
                                                      {SpokeEndsHeld::kClamped, row.clamped_hz}};
    for (const auto& [ends, hz] : cases) {
      const auto pitch =
          spoke_pitch(spoke_of(row.length_mm, row.diameter_mm, ends), row.tension_n * newton);
      ASSERT_TRUE(pitch);
      EXPECT_NEAR(pitch->in(hertz), hz, 0.02) << row.tension_n << " N, " << row.length_mm << " mm";
    }
  }
}

TEST(SpokePitch, OfAStringDependsOnStressAlone) {
  // Row 3.7: 300 MPa, 290 mm, any solid diameter, 337.05 Hz. Derived.
  for (const double diameter : {1.5, 1.8, 2.0, 2.3}) {
    const double tension = 300 * 3.14159265358979 / 4 * diameter * diameter;
    const auto pitch =
        spoke_pitch(spoke_of(290, diameter, SpokeEndsHeld::kString), tension * newton);
    EXPECT_NEAR(pitch->in(hertz), 337.05, 0.01);
  }
  // Row 3.10: 100 kgf, 279 mm, 2 mm; 357.37 Hz derived, "around 360 Hz" published.
  EXPECT_NEAR(spoke_pitch(spoke_of(279, 2, SpokeEndsHeld::kString), 100 * kgf)->in(hertz), 357.37,
              0.01);
}

TEST(SpokePitch, OneOctaveIsFourTimesTheTensionOfAString) {
  // Row 3.8: [spoke-pitch], published and derived.
  const auto spoke = spoke_of(290, 2, SpokeEndsHeld::kString);
  const double one = spoke_pitch(spoke, 400 * newton)->in(hertz);
  EXPECT_NEAR(spoke_pitch(spoke, 1600 * newton)->in(hertz) / one, 2, 1e-12);
  EXPECT_NEAR(spoke_tension(spoke, 1.2 * one * hertz)->in(newton) / 400, 1.44, 1e-9);
}

TEST(SpokeTension, StringFormulaOverestimatesAClampedSpoke) {
  // Row 3.9, derived: 22.0, 17.0, 34.5 and 35.7 % for rows 3.1, 3.2, 3.3 and 3.5.
  const std::pair<int, double> rows[] = {{0, 22.0}, {1, 17.0}, {2, 34.5}, {4, 35.7}};
  for (const auto& [index, percent] : rows) {
    const PitchRow& row = kRows[index];
    const auto read = spoke_tension(
        spoke_of(row.length_mm, row.diameter_mm, SpokeEndsHeld::kString), row.clamped_hz * hertz);
    EXPECT_NEAR((read->in(newton) / row.tension_n - 1) * 100, percent, 0.06);
  }
}

TEST(SpokeTension, UndoesThePitch) {
  Random random(11);
  for (int i = 0; i < 200; ++i) {
    const auto spoke = spoke_of(120 + 180 * random.uniform(), 1.5 + 0.8 * random.uniform(),
                                static_cast<SpokeEndsHeld>(random.below(3)));
    const double tension = 100 + 1400 * random.uniform();
    const auto back = spoke_tension(spoke, *spoke_pitch(spoke, tension * newton));
    ASSERT_TRUE(back) << "seed 11, case " << i;
    EXPECT_NEAR(back->in(newton), tension, 1e-6) << "seed 11, case " << i;
  }
}

TEST(SpokeTension, RefusesAPitchThatNoTensionGives) {
  const auto spoke = spoke_of(290, 2, SpokeEndsHeld::kClamped);
  EXPECT_EQ(spoke_tension(spoke, 5000 * hertz).error().code, Code::kOutOfRange);
  EXPECT_FALSE(spoke_pitch(spoke, -5 * newton));
}

}  // namespace
}  // namespace rollwright::mech
