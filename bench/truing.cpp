// Truing advice beside a rule of thumb, on the same simulated wheels.
//
//   bench_truing [--wheels N] [--seed N]
//
// Wheels, rims and readings are invented. Each wheel's truth has stiffnesses, hands and gauges of
// its own that the advice does not know, and more Fourier terms.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <ctime>
#include <string>

#include "base/index.hpp"
#include "base/random.hpp"
#include "mech/truing.hpp"
#include "truing_thumb.hpp"
#include "truing_wheel.hpp"

namespace {

using namespace rollwright;
using namespace rollwright::mech;
using bench::SimulatedWheel;
using bench::ThumbTruer;
using bench::WheelSort;

constexpr double kGauge = 0.03;     // mm, standard uncertainty of run-out
constexpr double kDishGauge = 0.1;  // mm
constexpr double kMeter = 0.05;     // of the tension
constexpr int kPasses = 3;
constexpr int kMostThumbPasses = 12;

/// How many tensions are read: all (60 % of wheels), half (25 %) or a third (15 %).
int meter_kind(Random& random) {
  const double drawn = random.uniform();
  return drawn < 0.6 ? 0 : drawn < 0.85 ? 1 : 2;
}
std::vector<int> read_spokes(int spokes, int kind) {
  std::vector<int> read;
  for (int i = 0; i < spokes; ++i) {
    if (kind == 0 || (kind == 1 && i % 4 < 2) || (kind == 2 && i % 3 == 0)) read.push_back(i);
  }
  return read;
}

TruingPass read_wheel(const SimulatedWheel& wheel, const std::vector<int>& read, Random& random) {
  TruingPass pass;
  const int places = 2 * static_cast<int>(wheel.spokes().size());
  const double zero_u = random.normal();
  const double zero_v = random.normal();
  for (int i = 0; i < places; ++i) {
    const Angle where = 360.0 * i / places * degree;
    const double u = wheel.lateral_mm(where) + zero_u + kGauge * random.normal();
    const double v = wheel.radial_mm(where) + zero_v + kGauge * random.normal();
    pass.run_out.push_back({where, u * mm, v * mm});
  }
  pass.dish = (wheel.dish_mm() + kDishGauge * random.normal()) * mm;
  for (const int spoke : read) {
    const double shown = std::max(0.0, wheel.tension_n(spoke) * (1 + kMeter * random.normal()));
    const double sigma = std::max(10.0, kMeter * shown);
    pass.tensions.push_back({spoke, shown * newton, sigma * newton});
  }
  return pass;
}

/// As many spokes as before, those first that the advice would like to know.
std::vector<int> read_again(const std::vector<int>& before, const std::vector<int>& wanted) {
  std::vector<int> read;
  for (const auto& spokes : {wanted, before}) {
    for (const int spoke : spokes) {
      const bool new_one = std::find(read.begin(), read.end(), spoke) == read.end();
      if (new_one && read.size() < before.size()) read.push_back(spoke);
    }
  }
  return read;
}

double by_hand(int quarters, Random& random) {
  return quarters / 4.0 * (1 + 0.05 * random.normal()) + 0.02 * random.normal();
}

int make(SimulatedWheel& wheel, const std::vector<SpokeTurn>& turns, Random& random) {
  int quarters = 0;
  for (const SpokeTurn& turn : turns) {
    wheel.turn(turn.spoke, by_hand(turn.quarters, random));
    quarters += std::abs(turn.quarters);
  }
  return quarters;
}

struct Score {
  int by_meter[3] = {0, 0, 0};  // inside after all passes, by how many tensions are read
  int inside[kPasses] = {0, 0, 0};
  int ever = 0;
  int true_at_end = 0;
  double quarters = 0;
  double quarters_of_ever = 0;
  void finish(int made, bool is_inside, bool is_true) {
    quarters += made;
    ever += is_inside;
    quarters_of_ever += is_inside ? made : 0;
    true_at_end += is_true;
  }
};

/// Milliseconds of processor time of each advice for a wheel with 36 spokes: others may be at work.
struct Timing {
  std::vector<double> ms;
  [[nodiscard]] double mean() const {
    double sum = 0;
    for (const double each : ms) sum += each;
    return ms.empty() ? 0 : sum / static_cast<double>(ms.size());
  }
  /// That which a share of all stays under.
  [[nodiscard]] double under(double share) const {
    std::vector<double> sorted = ms;
    std::sort(sorted.begin(), sorted.end());
    if (sorted.empty()) return 0;
    return sorted[static_cast<std::size_t>(share * static_cast<double>(sorted.size() - 1))];
  }
};

struct Advised {
  Score score;
  Timing timing;
  double foretold = 0;  // sum of stated probabilities of being inside after the turns
  int came_true = 0;
  int bent = 0;
  int past_highest = 0;
  double elbow_off[kPasses] = {0, 0, 0};
};

/// Nipples tightened whose spokes end past the highest tension, higher than before.
int past_highest(const SimulatedWheel& before, const SimulatedWheel& after,
                 const std::vector<SpokeTurn>& turns, const TruingLimits& limits) {
  int count = 0;
  for (const SpokeTurn& turn : turns) {
    const double tension = after.tension_n(turn.spoke);
    count += turn.quarters > 0 && tension > limits.highest.in(newton) &&
             tension > before.tension_n(turn.spoke);
  }
  return count;
}

struct Trial {
  const TruingLimits& limits;
  const std::vector<int>& read;
};

void advise(const TruingWheel& known, SimulatedWheel wheel, const Trial& trial, Random random,
            Advised& advised) {
  TruingReadings readings{.passes = {}, .gauge = kGauge * mm, .dish_gauge = kDishGauge * mm};
  std::vector<int> read = trial.read;
  int quarters = 0;
  bool inside = false;
  for (int pass = 0; pass < kPasses; ++pass) {
    readings.passes.push_back(read_wheel(wheel, read, random));
    const std::clock_t start = std::clock();
    const auto advice = truing_advice(known, readings, trial.limits);
    const double took_ms = 1000.0 * static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
    ROLLWRIGHT_PROMISE(advice);
    if (wheel.spokes().size() == 36) advised.timing.ms.push_back(took_ms);
    const SimulatedWheel before = wheel;
    quarters += make(wheel, advice->turns, random);
    read = read_again(read, advice->read_next);
    readings.passes.back().turns = advice->turns;
    inside = wheel.inside(trial.limits);
    advised.score.inside[pass] += inside;
    advised.past_highest += past_highest(before, wheel, advice->turns, trial.limits);
    advised.foretold += advice->after.inside;
    advised.came_true += inside;
    advised.bent += pass == 0 && advice->verdict == TruingVerdict::kRimBent;
    advised.elbow_off[pass] += std::fabs(advice->elbow_factor - wheel.elbow_factor());
  }
  advised.score.finish(quarters, inside, wheel.true_enough(trial.limits));
}

/// `rounds` looks in one pass, `spots` places for each look; until the readings are inside.
struct Pace {
  int rounds = 1;
  int spots = 1;
};

void by_thumb(SimulatedWheel wheel, const Trial& trial, Random random, const Pace& pace,
              Score& score) {
  const ThumbTruer thumb(trial.limits, wheel.spokes());
  int quarters = 0;
  bool content = false;
  for (int pass = 0; pass < kMostThumbPasses; ++pass) {
    for (int round = 0; round < pace.rounds && !content; ++round) {
      const auto turns = thumb.act(read_wheel(wheel, trial.read, random), pace.spots);
      content = turns.empty();
      quarters += make(wheel, turns, random);
    }
    if (pass < kPasses) score.inside[pass] += wheel.inside(trial.limits);
  }
  score.finish(quarters, wheel.inside(trial.limits), wheel.true_enough(trial.limits));
}

void show(const char* name, const Score& score, int wheels) {
  const auto share = [&](int count) { return static_cast<double>(count) / wheels; };
  fmt::print(
      "{:34} inside after 1, 2, 3 passes: {:.3f} {:.3f} {:.3f}; at its end {:.3f} (run-out and "
      "dish {:.3f}); turns a wheel {:.2f}, of those inside {:.2f}\n",
      name, share(score.inside[0]), share(score.inside[1]), share(score.inside[2]),
      share(score.ever), share(score.true_at_end), score.quarters / 4 / wheels,
      score.ever > 0 ? score.quarters_of_ever / 4 / score.ever : 0);
}

struct Tally {
  int wheels = 0;
  int inside_before = 0;
  double lateral_mm = 0;
  double radial_mm = 0;
  int by_meter[3] = {0, 0, 0};
  Advised advised;
  Score thumb;  // looks again at each spot
  Score hasty;  // looks once for a round of spots
};

void try_wheel(const WheelSort& sort, const TruingWheel& known, Random random, Tally& tally) {
  SimulatedWheel wheel(sort, random);
  while (wheel.least_tension_n() < 50) wheel = SimulatedWheel(sort, random);
  const TruingLimits limits = bench::limits_of(sort);
  const int n = static_cast<int>(wheel.spokes().size());
  const int meter = meter_kind(random);
  const auto read = read_spokes(n, meter);
  const Trial trial{limits, read};
  tally.wheels += 1;
  tally.by_meter[meter] += 1;
  tally.inside_before += wheel.inside(limits);
  tally.lateral_mm += wheel.lateral_run_out_mm();
  tally.radial_mm += wheel.radial_run_out_mm();
  const int inside_before = tally.advised.score.ever;
  advise(known, wheel, trial, random.split(1), tally.advised);
  tally.advised.score.by_meter[meter] += tally.advised.score.ever - inside_before;
  by_thumb(wheel, trial, random.split(2), {.rounds = n / 2, .spots = 1}, tally.thumb);
  by_thumb(wheel, trial, random.split(3), {.rounds = 1, .spots = n / 4}, tally.hasty);
}

void show_all(const Tally& tally) {
  const double count = tally.wheels;
  const Advised& advised = tally.advised;
  fmt::print(
      "{} invented wheels; limits: run-out 0.4 mm sideways and 0.4 mm radially (greatest less "
      "least), dish 0.5 mm, spokes within 20 % of their side's mean, means within 15 % of the "
      "target, no spoke above 1300 N. Inside before any turn: {:.3f}; mean run-out {:.2f} and "
      "{:.2f} mm. Tensions of all, half or a third of the spokes are read.\n",
      tally.wheels, tally.inside_before / count, tally.lateral_mm / count, tally.radial_mm / count);
  fmt::print(
      "inside_* are shares of wheels; turns are whole turns, either way, mean per wheel. A pass of "
      "the rule of thumb is half as many spots as spokes, the wheel read anew after each; it goes "
      "on for up to {} passes, and its turns are those of all of them.\n",
      kMostThumbPasses);
  show("advice", advised.score, tally.wheels);
  const char* const meters[] = {"all", "half", "a third"};
  for (std::size_t i = 0; i < 3; ++i) {
    if (tally.by_meter[i] == 0) continue;
    fmt::print("  with {} of the tensions read: {:.3f} of {} wheels inside after {}\n", meters[i],
               static_cast<double>(advised.score.by_meter[i]) / tally.by_meter[i],
               tally.by_meter[i], kPasses);
  }
  show("rule of thumb, gauge at each spot", tally.thumb, tally.wheels);
  show("rule of thumb, once round at a time", tally.hasty, tally.wheels);
  fmt::print(
      "advice foretold {:.3f} inside after its turns, {:.3f} came true; elbow factor off by {:.3f} "
      "after pass 1, {:.3f} after pass {}; rims called bent {}; tightened spokes that passed the "
      "highest tension {}\n",
      advised.foretold / count / kPasses, advised.came_true / count / kPasses,
      advised.elbow_off[0] / count, advised.elbow_off[kPasses - 1] / count, kPasses, advised.bent,
      advised.past_highest);
  fmt::print("advice for 36 spokes {:.1f} ms of processor time (mean), 99 in 100 under {:.1f} ms, "
             "most {:.1f} ms\n",
             advised.timing.mean(), advised.timing.under(0.99), advised.timing.under(1));
}

bool show_line(const Tally& tally) {
  const double count = tally.wheels;
  const Score& advised = tally.advised.score;
  const double turns = advised.quarters / 4 / count;
  const double thumb_turns = tally.thumb.quarters / 4 / count;
  const double ms = tally.advised.timing.mean();
  const bool holds =
      advised.inside[2] / count >= 0.95 && turns <= thumb_turns / 2 && ms <= 50;
  fmt::print(
      "{{\"name\":\"truing\",\"holds\":{},\"figures\":{{\"wheels\":{},\"inside_after_1\":{:.4f},"
      "\"inside_after_2\":{:.4f},\"inside_after_3\":{:.4f},\"turns\":{:.3f},"
      "\"rule_of_thumb_inside_after_3\":{:.4f},\"rule_of_thumb_turns\":{:.3f},"
      "\"advice_ms\":{:.2f}}}}}\n",
      holds, tally.wheels, advised.inside[0] / count, advised.inside[1] / count,
      advised.inside[2] / count, turns, tally.thumb.inside[2] / count, thumb_turns, ms);
  return holds;
}

/// The whole number after an option, or what stands in without it.
unsigned long long option(int argc, char** argv, const std::string& name,
                          unsigned long long without) {
  for (int i = 1; i + 1 < argc; ++i) {
    if (argv[i] == name) return std::strtoull(argv[i + 1], nullptr, 10);
  }
  return without;
}

}  // namespace

int main(int argc, char** argv) {
  const int wheels = std::max(1, static_cast<int>(option(argc, argv, "--wheels", 1000)));
  const Random seed(option(argc, argv, "--seed", 20240));
  const auto sorts = bench::wheel_sorts();
  std::vector<TruingWheel> known;
  for (const WheelSort& sort : sorts) {
    const auto spokes = laced(sort.lacing);
    ROLLWRIGHT_PROMISE(spokes);
    const auto wheel = TruingWheel::of(sort.rim, *spokes);
    ROLLWRIGHT_PROMISE(wheel);
    known.push_back(*wheel);
  }
  Tally tally;
  for (int i = 0; i < wheels; ++i) {
    const std::size_t sort = at(i) % sorts.size();
    try_wheel(sorts[sort], known[sort], seed.split(static_cast<std::uint64_t>(i)), tally);
  }
  show_all(tally);
  return show_line(tally) ? 0 : 1;
}
