#include "mech/spoke_pitch.hpp"

#include <gtest/gtest.h>

#include <string>

#include "base/random.hpp"
#include "mech/trials/checked.hpp"

namespace rollwright::mech {
namespace {

using trials::CheckedRow;
using trials::expect_row;
using trials::expect_rows;
using trials::Tag;

struct PitchRow {
  const char* row;
  const char* of;
  double tension_n, length_mm, diameter_mm;
  double string_hz, pinned_hz, clamped_hz;
};

// Derived from the equations of [spoke-pitch] for steel, +-0.02 Hz.
constexpr PitchRow kRows[] = {
    {"3.1", "290 mm of 2.0 mm at 1000 N", 1000, 290, 2.0, 347.19, 350.37, 383.55},
    {"3.2", "290 mm of 1.8 mm at 1000 N", 1000, 290, 1.8, 385.76, 388.09, 417.33},
    {"3.3", "290 mm of 2.0 mm at 500 N", 500, 290, 2.0, 245.50, 249.98, 284.76},
    {"3.4", "290 mm of 2.0 mm at 1200 N", 1200, 290, 2.0, 380.32, 383.23, 416.09},
    {"3.5", "200 mm of 2.0 mm at 1000 N", 1000, 200, 2.0, 503.42, 513.08, 586.50},
    {"3.6", "290 mm of 1.8 mm at 1200 N", 1200, 290, 1.8, 422.58, 424.71, 453.73},
};
const CheckedRow kHertz = {.unit = "Hz", .source = "spoke-pitch"};

SoundingSpoke spoke_of(double length_mm, double diameter_mm, SpokeEndsHeld ends) {
  return {.length = length_mm * mm, .diameter = diameter_mm * mm, .ends = ends};
}

TEST(SpokePitch, AgreesWithTheCheckValues) {
  struct Case {
    SpokeEndsHeld ends;
    const char* name;
    double hz;
  };
  for (const PitchRow& row : kRows) {
    for (const Case& held : {Case{SpokeEndsHeld::kString, "string", row.string_hz},
                             {SpokeEndsHeld::kPinned, "pinned", row.pinned_hz},
                             {SpokeEndsHeld::kClamped, "clamped", row.clamped_hz}}) {
      const auto pitch =
          spoke_pitch(spoke_of(row.length_mm, row.diameter_mm, held.ends), row.tension_n * newton);
      ASSERT_TRUE(pitch);
      expect_rows(kHertz, {{std::string(row.row) + " " + held.name,
                            std::string("pitch of ") + row.of + ", " + held.name, held.hz, 0.02,
                            pitch->in(hertz)}});
    }
  }
}

TEST(SpokePitch, OfAStringDependsOnStressAlone) {
  const auto at_300_mpa = [](double diameter) {
    const double tension = 300 * 3.14159265358979 / 4 * diameter * diameter;
    const auto spoke = spoke_of(290, diameter, SpokeEndsHeld::kString);
    return spoke_pitch(spoke, tension * newton)->in(hertz);
  };
  for (const double diameter : {1.5, 1.8, 2.3}) {
    EXPECT_NEAR(at_300_mpa(diameter), at_300_mpa(2.0), 1e-9);
  }
  const double hobby = spoke_pitch(spoke_of(279, 2, SpokeEndsHeld::kString), 100 * kgf)->in(hertz);
  expect_rows(kHertz, {{"3.7", "string of 290 mm at 300 MPa, any diameter", 337.05, 0.01,
                        at_300_mpa(2.0)},
                       {"3.10", "string of 279 mm of 2 mm at 100 kgf", 357.37, 0.01, hobby}});
  expect_row({.row = "3.10 published",
              .of = "the same, around 360",
              .unit = "Hz",
              .expected = 360,
              .tolerance = 5,
              .ours = hobby,
              .tag = Tag::kFound,
              .source = "spoke-pitch"});
}

TEST(SpokePitch, OneOctaveIsFourTimesTheTensionOfAString) {
  const auto spoke = spoke_of(290, 2, SpokeEndsHeld::kString);
  const double one = spoke_pitch(spoke, 400 * newton)->in(hertz);
  const CheckedRow shared = {.tag = Tag::kFoundDerived, .source = "spoke-pitch"};
  expect_rows(shared, {{"3.8 octave", "tension of a string an octave higher over before", 4, 0.0001,
                        spoke_tension(spoke, 2 * one * hertz)->in(newton) / 400},
                       {"3.8 fifth part", "the same, 1.2 times the pitch", 1.44, 0.0001,
                        spoke_tension(spoke, 1.2 * one * hertz)->in(newton) / 400}});
}

TEST(SpokeTension, StringFormulaOverestimatesAClampedSpoke) {
  const std::pair<int, double> rows[] = {{0, 22.0}, {1, 17.0}, {2, 34.5}, {4, 35.7}};
  for (const auto& [index, percent] : rows) {
    const PitchRow& row = kRows[index];
    const auto read = spoke_tension(
        spoke_of(row.length_mm, row.diameter_mm, SpokeEndsHeld::kString), row.clamped_hz * hertz);
    ASSERT_TRUE(read);
    expect_rows({.unit = "%", .source = "spoke-pitch"},
                {{std::string("3.9 of ") + row.row,
                  std::string("too much tension by the string formula: ") + row.of, percent, 0.06,
                  (read->in(newton) / row.tension_n - 1) * 100}});
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
