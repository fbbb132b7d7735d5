#include "mech/spoke_pitch_reading.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "base/random.hpp"
#include "mech/belt_reading.hpp"

namespace rollwright::mech {
namespace {

SpokeHeard heard_of(double hz, double length_mm = 290, double diameter_mm = 2) {
  return {.spoke = {.length = length_mm * mm, .diameter = diameter_mm * mm},
          .pitch = hz * hertz,
          .pitch_uncertainty = 0.3 * hertz};
}

TEST(SpokeReading, ReadsTheCheckValues) {
  // Rows 3.1 to 3.6, derived: pinned and clamped pitches of a known tension, to 0.02 Hz.
  struct Row {
    double tension_n, length_mm, diameter_mm, pinned_hz, clamped_hz;
  };
  for (const Row& row : {Row{1000, 290, 2.0, 350.37, 383.55}, {1000, 290, 1.8, 388.09, 417.33},
                         {500, 290, 2.0, 249.98, 284.76}, {1200, 290, 2.0, 383.23, 416.09},
                         {1000, 200, 2.0, 513.08, 586.50}, {1200, 290, 1.8, 424.71, 453.73}}) {
    for (const double held : {0.0, 0.5, 1.0}) {
      const double hz = (1 - held) * row.pinned_hz + held * row.clamped_hz;
      const auto read = spoke_reading(heard_of(hz, row.length_mm, row.diameter_mm),
                                      {.held = held, .held_uncertainty = 0});
      ASSERT_TRUE(read) << read.error().full();
      EXPECT_NEAR(read->tension.in(newton), row.tension_n, 2e-4 * row.tension_n);
    }
  }
}

TEST(SpokeReading, SharesAgreeWithDraws) {
  // Second opinion: the spread of tensions over drawn pitches, lengths, diameters and ends.
  const SpokeHeard heard = heard_of(365);
  const SpokeEndsFound ends{.held = 0.5, .held_uncertainty = 0.15};
  const auto read = spoke_reading(heard, ends);
  ASSERT_TRUE(read);
  Random random(97);
  double sum = 0, squares = 0;
  constexpr int kDraws = 500;
  for (int i = 0; i < kDraws; ++i) {
    SpokeHeard drawn = heard;
    drawn.pitch += 0.3 * random.normal() * hertz;
    drawn.spoke.length += random.normal() * mm;
    drawn.spoke.diameter += 0.01 * random.normal() * mm;
    SpokeEndsFound held = ends;
    held.held = std::clamp(0.5 + 0.15 * random.normal(), 0.0, 1.0);
    const double n = spoke_reading(drawn, held)->tension.in(newton);
    sum += n;
    squares += n * n;
  }
  const double spread = std::sqrt(squares / kDraws - std::pow(sum / kDraws, 2));
  EXPECT_NEAR(read->uncertainty.in(newton), spread, 0.1 * spread);
  EXPECT_NEAR(std::hypot(std::hypot(read->from_pitch.in(newton), read->from_length.in(newton)),
                         std::hypot(read->from_diameter.in(newton), read->from_ends.in(newton))),
              read->uncertainty.in(newton), 1e-9);
}

TEST(SpokeReading, IsFarSurerWithACalibration) {
  const auto without = spoke_reading(heard_of(365));
  const auto ends = spoke_ends_from(heard_of(365), {905 * newton, 18 * newton});
  ASSERT_TRUE(ends) << ends.error().full();
  const auto with = spoke_reading(heard_of(365), *ends);
  EXPECT_NEAR(with->tension.in(newton), 905, 0.01);
  EXPECT_LT(with->uncertainty.in(newton), 0.7 * without->uncertainty.in(newton));
}

TEST(SpokeEnds, OneReadingServesTheWholeWheel) {
  // Invented wheels with ends somewhere between pinned and clamped: calibrated at 1000 N, read at
  // others.
  for (const double held : {0.0, 0.3, 0.8, 1.0}) {
    const auto hz_at = [&](double newtons) {
      SoundingSpoke spoke{.length = 280 * mm, .diameter = 1.8 * mm, .ends = SpokeEndsHeld::kPinned};
      const double pinned = spoke_pitch(spoke, newtons * newton)->in(hertz);
      spoke.ends = SpokeEndsHeld::kClamped;
      return (1 - held) * pinned + held * spoke_pitch(spoke, newtons * newton)->in(hertz);
    };
    const auto ends =
        spoke_ends_from(heard_of(hz_at(1000), 280, 1.8), {1000 * newton, 30 * newton});
    ASSERT_TRUE(ends);
    EXPECT_NEAR(ends->held, held, 1e-6);
    EXPECT_NEAR(ends->factor, 1, 1e-6);
    EXPECT_NEAR(ends->factor_uncertainty, 0.03, 1e-12);
    const auto read = spoke_reading(heard_of(hz_at(600), 280, 1.8), *ends);
    EXPECT_NEAR(read->tension.in(newton), 600, 0.01);
  }
}

TEST(SpokeEnds, PutWhatEndsCannotExplainIntoTheFactor) {
  const auto ends = spoke_ends_from(heard_of(383.55), {1300 * newton, 20 * newton});
  EXPECT_EQ(ends->held, 0);
  EXPECT_GT(ends->factor, 1);
  EXPECT_NEAR(spoke_reading(heard_of(383.55), *ends)->tension.in(newton), 1300, 0.01);
  EXPECT_EQ(spoke_ends_from(heard_of(383.55), {2900 * newton, 20 * newton}).error().code,
            Code::kOutOfRange);
  EXPECT_FALSE(spoke_reading(heard_of(9000)));
  EXPECT_FALSE(spoke_reading(heard_of(std::nan(""))));
}

TEST(PluckOfSpoke, HoldsEveryOrdinaryTension) {
  const auto asked = pluck_of_spoke({.length = 290 * mm, .diameter = 2 * mm});
  ASSERT_TRUE(asked);
  EXPECT_LT(asked->least.in(hertz), 170);
  EXPECT_GT(asked->most.in(hertz), 520);
}

TEST(BeltReading, CarriesItsUncertainty) {
  // Rows 4.25 and 4.26, derived: 186.6 and 138.7 N.
  const auto read = belt_reading({.span = {0.070 * kg_per_metre, 430.2 * mm},
                                  .pitch = 60 * hertz,
                                  .pitch_uncertainty = 0.6 * hertz,
                                  .span_uncertainty = 0 * mm,
                                  .mass_uncertainty = {}});
  EXPECT_NEAR(read->tension.in(newton), 186.6, 0.05);
  EXPECT_NEAR(read->uncertainty.in(newton), 0.02 * read->tension.in(newton), 1e-9);
  EXPECT_NEAR(belt_reading({.span = {0.065 * kg_per_metre, 420 * mm}, .pitch = 55 * hertz})
                  ->tension.in(newton),
              138.7, 0.05);
  EXPECT_NEAR(belt_mass_per_metre(91 * gram, 118)->in(kg_per_metre), 0.0701, 0.00005);
  EXPECT_FALSE(belt_mass_per_metre(91 * kg, 118));
  EXPECT_EQ(pluck_of_belt().least, 20 * hertz);
}

}  // namespace
}  // namespace rollwright::mech
