#include "mech/pitch.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "base/random.hpp"
#include "mech/pitch_comb.hpp"
#include "mech/pitch_spectrum.hpp"

namespace rollwright::mech {
namespace {

struct Partial {
  double hz, amplitude, decay_s;
};

/// Invented: quiet for 0.2 s, then partials that fade, and white noise.
Sound made_of(const std::vector<Partial>& partials, double noise, double seconds = 1.2,
              double rate = 44100) {
  Sound sound{.rate_hz = rate};
  Random random(5);
  for (int i = 0; i < seconds * rate; ++i) {
    const double t = i / rate - 0.2;
    double sample = noise * random.normal();
    for (const Partial& partial : partials) {
      if (t > 0) {
        sample += partial.amplitude * std::exp(-t / partial.decay_s) *
                  std::sin(2 * std::numbers::pi * partial.hz * t);
      }
    }
    sound.samples.push_back(sample);
  }
  return sound;
}

TEST(Spectrum, ToneAmplitudeIsTheAmplitude) {
  Sound sound{.rate_hz = 8000};
  for (int i = 0; i < 4000; ++i) {
    sound.samples.push_back(0.3 * std::sin(2 * std::numbers::pi * 441.3 * i / 8000));
  }
  const auto windowed = hann_windowed(sound.samples);
  EXPECT_NEAR(tone_amplitude(windowed, 8000, 441.3), 0.3, 1e-4);
  EXPECT_LT(tone_amplitude(windowed, 8000, 700), 1e-4);
  EXPECT_NEAR(loudest_near(windowed, 8000, 441, 2), 441.3, 1e-3);
  // The plain sum, for a second opinion on the recursion.
  double real = 0, imaginary = 0;
  for (std::size_t i = 0; i < windowed.size(); ++i) {
    real += windowed[i] * std::cos(2 * std::numbers::pi * 440 * static_cast<double>(i) / 8000);
    imaginary += windowed[i] * std::sin(2 * std::numbers::pi * 440 * static_cast<double>(i) / 8000);
  }
  EXPECT_NEAR(tone_amplitude(windowed, 8000, 440), std::hypot(real, imaginary), 1e-9);
}

TEST(Spectrum, ThinningKeepsLowTonesAndStopsHighOnes) {
  for (const double hz : {200.0, 1500.0, 2500.0}) {
    Sound sound{.rate_hz = 48000};
    for (int i = 0; i < 48000; ++i) {
      sound.samples.push_back(std::sin(2 * std::numbers::pi * hz * i / 48000));
    }
    const Sound thin = thinned(sound, 100, 2500);
    EXPECT_EQ(thin.rate_hz, 8000);
    EXPECT_NEAR(tone_amplitude(hann_windowed(thin.samples), thin.rate_hz, hz), 1, 0.022) << hz;
  }
  Sound high{.rate_hz = 48000};
  for (int i = 0; i < 48000; ++i) {
    high.samples.push_back(std::sin(2 * std::numbers::pi * 6000 * i / 48000));
  }
  const Sound thin = thinned(high, 100, 2500);
  EXPECT_LT(tone_amplitude(hann_windowed(thin.samples), thin.rate_hz, 2000), 1e-3);
}

TEST(Spectrum, FindsNoTonesInNoise) {
  int found = 0;
  for (std::uint64_t seed = 0; seed < 8; ++seed) {
    Random random(seed);
    std::vector<double> noise(6000);
    for (double& sample : noise) sample = random.normal();
    found += static_cast<int>(tone_peaks(noise, 12000, 100, 5000).size());
  }
  EXPECT_LE(found, 1);
}

TEST(Comb, FindsTheLowestOfAStiffString) {
  std::vector<TonePeak> peaks;
  for (const int k : {2, 3, 4, 5}) peaks.push_back({partial_hz(300, 0.02, k), 1.0 / k, 100});
  const Combs combs = best_combs(peaks, {150, 750, 0.06, 1});
  ASSERT_TRUE(combs.best);
  EXPECT_NEAR(combs.best->lowest_hz, 300, 0.01);
  EXPECT_NEAR(combs.best->stiffness, 0.02, 1e-4);
  EXPECT_FALSE(combs.best->lowest);
  EXPECT_FALSE(best_combs({}, {150, 750, 0.06, 1}).best);
}

TEST(PluckPitch, IsExactForACleanPluck) {
  const auto heard = pluck_pitch(made_of({{347.19, 0.4, 0.4}, {712, 0.2, 0.3}}, 0.001));
  ASSERT_TRUE(heard) << heard.error().full();
  EXPECT_NEAR(heard->pitch.in(hertz), 347.19, 0.01);
  EXPECT_LT(heard->uncertainty.in(hertz), 0.2);
  EXPECT_GE(heard->from_s, 0.2);
  EXPECT_LT(heard->from_s, 0.25);
  EXPECT_TRUE(heard->lowest_heard);
  EXPECT_FALSE(heard->beside);
}

TEST(PluckPitch, TellsTheCrossingSpoke) {
  const auto heard = pluck_pitch(made_of({{350, 0.4, 0.4}, {368, 0.15, 0.4}}, 0.001));
  ASSERT_TRUE(heard) << heard.error().full();
  EXPECT_NEAR(heard->pitch.in(hertz), 350, 0.1);
  ASSERT_TRUE(heard->beside);
  EXPECT_NEAR(heard->beside->in(hertz), 368, 0.5);
}

TEST(PluckPitch, StatesAnUncertaintyThatHolds) {
  // 60 invented plucks in so much noise (its root mean square over half of the tone's) that some
  // are refused. Of those heard about 95 in 100 should lie within two standard uncertainties.
  Random random(91);
  int within = 0;
  int heard_at_all = 0;
  for (int i = 0; i < 60; ++i) {
    const double hz = 200 + 400 * random.uniform();
    Sound sound = made_of({{hz, 0.1, 0.3}}, 0, 0.8, 16000);
    for (double& sample : sound.samples) sample += 0.04 * random.normal();
    const auto heard = pluck_pitch(sound);
    if (!heard) continue;
    ++heard_at_all;
    within += std::fabs(heard->pitch.in(hertz) - hz) <= 2 * heard->uncertainty.in(hertz);
  }
  EXPECT_GE(heard_at_all, 54);
  EXPECT_GE(within, 0.9 * heard_at_all);
}

TEST(PluckPitch, RefusesWhatHasNoPitch) {
  const auto refused = [](const Sound& sound) {
    const auto heard = pluck_pitch(sound);
    EXPECT_FALSE(heard);
    if (!heard) {
      EXPECT_EQ(heard.error().code, Code::kRefused);
      EXPECT_GT(heard.error().sentence.size(), 30u);
    }
  };
  refused(made_of({}, 0));
  refused(made_of({}, 0.1));
  refused(made_of({{300, 0.4, 0.006}}, 0.001));
  refused(made_of({}, 0, 0.001));
  Sound steady{.rate_hz = 16000};
  for (int i = 0; i < 16000; ++i) steady.samples.push_back(0.3 * std::sin(i * 0.12));
  refused(steady);
  Sound slow = made_of({{300, 0.4, 0.3}}, 0.001);
  slow.rate_hz = 4000;
  EXPECT_EQ(pluck_pitch(slow).error().code, Code::kOutOfRange);
  EXPECT_EQ(pluck_pitch(made_of({}, 0.1), {400 * hertz, 300 * hertz}).error().code,
            Code::kOutOfRange);
}

}  // namespace
}  // namespace rollwright::mech
