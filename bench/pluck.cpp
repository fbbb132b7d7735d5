// The pitch heard in invented plucks beside the pitch they were made with.
//
//   bench_pluck [--data DIR] [--cases N]   N of each sort
//
// Every pluck is synthesised, so DIR (reference data) is accepted and not needed. Sounds of nine
// sorts, each a spoke or a belt with its own partials, decay, noise and rate, go through a WAV file
// of 16 bits. None is left out: what is refused is counted. Sounds that are no plucks go in too,
// and must all be refused.

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <string>
#include <vector>

#include "base/random.hpp"
#include "mech/pitch.hpp"

namespace {

using namespace rollwright;

constexpr double kMostErrorPercent = 1;
constexpr double kMostRefusedShare = 0.05;

constexpr std::array<const char*, 9> kSorts = {
    "plain",        "noisy",          "lowest weak",          "lowest missing", "dull and short",
    "two crossed",  "crossed, close", "others ringing, hum",  "belt"};
enum Sort { kPlain, kNoisy, kWeak, kMissing, kShort, kCrossed, kClose, kRinging, kBelt };

/// One string as it sounds.
struct Voice {
  double lowest_hz = 300;
  double stiffness = 0;  // epsilon of Fletcher's series for clamped ends
  double amplitude = 0.3;
  double decay_s = 0.4;  // of the lowest partial; higher ones fade sooner
  double lowest_level = 1;
  double place = 0.3;  // where it is plucked, share of its length
};

/// Partial `number` over the lowest, by the series for clamped ends (not the form that is fitted).
double over_lowest(double epsilon, int number) {
  const auto sum = [&](int k) {
    const double bend = 4 + k * k * std::numbers::pi * std::numbers::pi / 2;
    return k * (1 + 2 * epsilon + bend * epsilon * epsilon);
  };
  return sum(number) / sum(1);
}

void add_voice(mech::Sound& sound, const Voice& voice, double start_s, Random& random) {
  for (int k = 1; k <= 7; ++k) {
    const double hz = voice.lowest_hz * over_lowest(voice.stiffness, k);
    if (hz > 0.45 * sound.rate_hz) break;
    const double shape = std::fabs(std::sin(std::numbers::pi * k * voice.place));
    const double level = shape / std::pow(k, 1.2) * (k == 1 ? voice.lowest_level : 1);
    const double decay = voice.decay_s / (0.7 + 0.3 * k);
    const double phase = 2 * std::numbers::pi * random.uniform();
    for (std::size_t i = 0; i < sound.samples.size(); ++i) {
      const double t = static_cast<double>(i) / sound.rate_hz - start_s;
      if (t < 0) continue;
      sound.samples[i] += voice.amplitude * level * std::exp(-t / decay) *
                          std::sin(2 * std::numbers::pi * hz * t + phase);
    }
  }
}

void add_noise(mech::Sound& sound, double level, Random& random) {
  for (double& sample : sound.samples) sample += level * random.normal();
}

/// The knock of the finger or the pick.
void add_knock(mech::Sound& sound, double start_s, double level, Random& random) {
  const auto first = static_cast<std::size_t>(start_s * sound.rate_hz);
  const auto knock = static_cast<std::size_t>(sound.rate_hz / 40);
  const auto last = std::min(sound.samples.size(), first + knock);
  for (std::size_t i = first; i < last; ++i) {
    const double t = static_cast<double>(i - first) / sound.rate_hz;
    sound.samples[i] += level * std::exp(-t / 0.004) * random.normal();
  }
}

void add_hum(mech::Sound& sound, double level) {
  for (std::size_t i = 0; i < sound.samples.size(); ++i) {
    const double turn = 2 * std::numbers::pi * static_cast<double>(i) / sound.rate_hz;
    sound.samples[i] +=
        level * (std::sin(50 * turn) + 0.5 * std::sin(100 * turn) + 0.2 * std::sin(150 * turn));
  }
}

double between(Random& random, double least, double most) {
  return least + (most - least) * random.uniform();
}

struct Case {
  mech::Sound sound;
  mech::PluckAsked asked;
  double hz = 0;
};

Voice voice_of(Sort sort, Random& random) {
  Voice voice{.lowest_hz = between(random, 190, 620),
              .stiffness = between(random, 0.01, 0.06),
              .amplitude = between(random, 0.05, 0.4),
              .decay_s = between(random, 0.25, 0.9),
              .place = between(random, 0.12, 0.5)};
  if (sort == kWeak) voice.lowest_level = between(random, 0.04, 0.15);
  if (sort == kMissing) voice.lowest_level = 0;
  if (sort == kShort) voice.decay_s = between(random, 0.06, 0.12);
  if (sort == kBelt) {
    voice.lowest_hz = between(random, 28, 100);
    voice.stiffness = between(random, 0, 0.005);
    voice.decay_s = between(random, 0.15, 0.4);
  }
  return voice;
}

Case case_of(Sort sort, Random& random) {
  constexpr std::array kRates = {8000.0, 16000.0, 44100.0, 48000.0, 96000.0, 192000.0};
  const double lead = random.below(6) == 0 ? 0 : between(random, 0.1, 0.4);
  const double rate = kRates[random.below(sort == kShort ? 4 : kRates.size())];
  Case made{.sound = {.rate_hz = rate}};
  made.sound.samples.resize(static_cast<std::size_t>(rate * (lead + between(random, 0.9, 1.6))));
  const Voice voice = voice_of(sort, random);
  made.hz = voice.lowest_hz;
  if (sort == kBelt) made.asked = {20 * hertz, 150 * hertz, 0.002};
  add_voice(made.sound, voice, lead, random);
  if (sort == kCrossed || sort == kClose) {
    Voice second = voice;
    const double off =
        sort == kCrossed ? between(random, 0.02, 0.09) : between(random, 0.001, 0.01);
    second.lowest_hz *= random.below(2) == 0 ? 1 + off : 1 - off;
    second.amplitude *= between(random, 0.15, sort == kCrossed ? 0.7 : 0.5);
    add_voice(made.sound, second, lead, random);
  }
  if (sort == kRinging) {
    for (int i = 0; i < 3; ++i) {
      Voice other = voice_of(kPlain, random);
      other.amplitude = 0.12 * voice.amplitude;
      other.decay_s = 1.5;
      add_voice(made.sound, other, lead + 0.01, random);
    }
    add_hum(made.sound, 0.1 * voice.amplitude);
  }
  add_knock(made.sound, lead, voice.amplitude * between(random, 0.1, 0.6), random);
  const double noise = sort == kNoisy ? between(random, 0.1, 0.3) : between(random, 0.002, 0.03);
  add_noise(made.sound, noise * voice.amplitude, random);
  return made;
}

/// Sounds without a pitch of their own to tell, by turns.
Case no_pluck(int sort, Random& random) {
  Case made{.sound = {.rate_hz = 48000}};
  made.sound.samples.resize(48000);
  if (sort == 0) return made;
  if (sort == 1) add_noise(made.sound, 0.1, random);
  if (sort == 2) add_hum(made.sound, 0.2);
  if (sort == 2) add_noise(made.sound, 0.01, random);
  if (sort == 3) add_noise(made.sound, 0.002, random);
  if (sort == 3) add_knock(made.sound, 0.3, 0.5, random);
  if (sort == 4) add_voice(made.sound, {.decay_s = 0.008}, 0.3, random);
  if (sort == 4) add_noise(made.sound, 0.002, random);
  return made;
}

Result<mech::PluckPitch> heard(const Case& made) {
  const auto bytes = mech::write_wav(made.sound);
  if (!bytes) return std::unexpected(bytes.error());
  const auto sound = mech::read_wav(*bytes);
  if (!sound) return std::unexpected(sound.error());
  return mech::pluck_pitch(*sound, made.asked);
}

struct Tally {
  int cases = 0;
  int refused = 0;
  int within_two = 0;  // standard uncertainties
  std::vector<double> errors_percent;

  [[nodiscard]] double worst() const {
    return errors_percent.empty() ? 0
                                  : *std::max_element(errors_percent.begin(), errors_percent.end());
  }
  [[nodiscard]] double median() {
    if (errors_percent.empty()) return 0;
    std::sort(errors_percent.begin(), errors_percent.end());
    return errors_percent[errors_percent.size() / 2];
  }
};

void count_in(Tally& tally, const Case& made, const Result<mech::PluckPitch>& pitch) {
  ++tally.cases;
  if (!pitch) {
    ++tally.refused;
    return;
  }
  const double error_hz = std::fabs(pitch->pitch.in(hertz) - made.hz);
  tally.errors_percent.push_back(100 * error_hz / made.hz);
  tally.within_two += error_hz <= 2 * pitch->uncertainty.in(hertz);
}

Tally tally_of(Sort sort, int cases) {
  Tally tally;
  const Random root(2026);
  for (int i = 0; i < cases; ++i) {
    Random random = root.split(static_cast<std::uint64_t>(1000 * sort + i));
    const Case made = case_of(sort, random);
    const auto pitch = heard(made);
    count_in(tally, made, pitch);
    const double off = pitch ? 100 * (pitch->pitch.in(hertz) / made.hz - 1) : 0;
    if (!pitch || std::fabs(off) > kMostErrorPercent) {
      fmt::print("  {}, case {}: made with {:.2f} Hz; {}\n", kSorts[sort], i, made.hz,
                 pitch ? fmt::format("heard {:.2f} Hz", pitch->pitch.in(hertz))
                       : pitch.error().sentence);
    }
  }
  fmt::print("{:20} {:3} cases, {:2} refused, error {:.3f} % in the middle, {:.3f} % at worst, "
             "{} within two uncertainties\n",
             kSorts[sort], tally.cases, tally.refused, tally.median(), tally.worst(),
             tally.within_two);
  return tally;
}

}  // namespace

int main(int argc, char** argv) {
  CLI::App app("pitches heard in invented plucks");
  std::string data;
  int cases = 80;
  app.add_option("--data", data, "not needed here");
  app.add_option("--cases", cases, "of each sort")->check(CLI::Range(1, 10000));
  CLI11_PARSE(app, argc, argv);

  Tally all;
  for (std::size_t sort = 0; sort < kSorts.size(); ++sort) {
    const Tally tally = tally_of(static_cast<Sort>(sort), cases);
    all.cases += tally.cases;
    all.refused += tally.refused;
    all.within_two += tally.within_two;
    all.errors_percent.insert(all.errors_percent.end(), tally.errors_percent.begin(),
                              tally.errors_percent.end());
  }
  int not_plucks = 0;
  int not_plucks_refused = 0;
  for (int i = 0; i < 50; ++i) {
    Random random(static_cast<std::uint64_t>(7000 + i));
    const auto pitch = heard(no_pluck(i % 5, random));
    ++not_plucks;
    not_plucks_refused += !pitch;
    if (pitch) fmt::print("  no pluck, sort {}: heard {:.2f} Hz\n", i % 5, pitch->pitch.in(hertz));
  }
  const bool holds = all.worst() <= kMostErrorPercent &&
                     all.refused <= kMostRefusedShare * all.cases &&
                     not_plucks_refused == not_plucks;
  fmt::print("{{\"name\":\"pluck\",\"holds\":{},\"figures\":{{\"cases\":{},\"refused\":{},"
             "\"worst_error_percent\":{:.3f},\"median_error_percent\":{:.4f},"
             "\"within_two_uncertainties\":{},\"not_plucks\":{},\"not_plucks_refused\":{}}}}}\n",
             holds, all.cases, all.refused, all.worst(), all.median(), all.within_two, not_plucks,
             not_plucks_refused);
  return holds ? 0 : 1;
}
