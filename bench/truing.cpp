// Truing advice beside a rule of thumb, on the same simulated wheels.
//
//   bench_truing [--wheels N]
//
// Wheels, rims and readings are invented. Each wheel's truth has stiffnesses, hands and gauges of its
// own that the advice does not know, and more Fourier terms.

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdlib>
#include <string>

#include "base/index.hpp"
#include "base/random.hpp"
#include "mech/truing.hpp"

namespace {

using namespace rollwright;
using namespace rollwright::mech;

constexpr double kGauge = 0.03;      // mm, standard uncertainty of run-out
constexpr double kDishGauge = 0.1;   // mm
constexpr double kMeter = 0.05;      // of the tension
constexpr int kTrueWaves = 72;
constexpr int kTruePlaces = 180;
constexpr int kPasses = 3;
constexpr int kMostThumbPasses = 12;
constexpr Force kHighest = 1300 * newton;
constexpr double kTight = 1100;  // N, mean of the tighter side

struct Kind {
  const char* name;
  RimSection rim;
  LacedWheel lacing;
};

RimSection rim_of(double radius_mm, double radial, double lateral, double torsion) {
  return {.radius = radius_mm * mm,
          .bending_radial = radial,
          .bending_lateral = lateral,
          .torsion = torsion,
          .rigidity = 7e6 * newton};
}

Kind kind_of(const char* name, const RimSection& rim, int spokes, double left, double right,
             double offset) {
  const double crosses = spokes == 28 ? 2 : 3;
  const double ratio = (right + offset) / (left - offset);  // left over right, near enough
  const Flange flange{.circle = 45 * mm, .holes = spokes / 2, .crosses = crosses};
  LacedWheel lacing{.left = {flange, 522e3 * newton, std::min(1.0, ratio) * kTight * newton},
                    .right = {flange, 522e3 * newton, std::min(1.0, 1 / ratio) * kTight * newton},
                    .nipple_circle = 2 * rim.radius - 8 * mm,
                    .nipples_towards_left = offset * mm};
  lacing.left.flange.offset = left * mm;
  lacing.right.flange.offset = right * mm;
  return {name, rim, lacing};
}

std::vector<Kind> kinds() {
  const RimSection shallow = rim_of(304, 111, 219, 26.3);  // [wheel-thesis]
  const RimSection deep = rim_of(305, 250, 206, 94);       // [wheel-thesis]; radial invented
  return {kind_of("front 36", shallow, 36, 35, 35, 0),
          kind_of("front 32", shallow, 32, 35, 35, 0),
          kind_of("front 28 deep", deep, 28, 35, 35, 0),
          kind_of("front 32 disc", shallow, 32, 26, 36, 0),
          kind_of("rear 36 dished", shallow, 36, 37, 18, 0),
          kind_of("rear 32 dished", shallow, 32, 37, 18, 0),
          kind_of("rear 32 offset rim", shallow, 32, 37, 18, 3),
          kind_of("rear 28 dished deep", deep, 28, 37, 20, 0)};
}

TruingLimits limits_of(const Kind& kind) {
  return {.lateral = 0.4 * mm,
          .radial = 0.4 * mm,
          .dish = 0.5 * mm,
          .spread = 0.2,
          .left = kind.lacing.left.tension,
          .right = kind.lacing.right.tension,
          .mean_within = 0.15,
          .highest = kHighest};
}

/// A wheel as it is. Linear in turns and bends about its own tensions.
class TrueWheel {
 public:
  TrueWheel(const Kind& kind, Random& random) {
    RimSection rim = kind.rim;
    for (double* each : {&rim.bending_radial, &rim.bending_lateral, &rim.torsion}) {
      *each *= random.lognormal(0, 0.1);
    }
    auto spokes = *laced(kind.lacing);
    const double level = 0.92 + 0.16 * random.uniform();
    const double rigidity = random.lognormal(0, 0.03);
    for (WheelSpoke& spoke : spokes) {
      spoke.tension = level * spoke.tension;
      spoke.rigidity = rigidity * spoke.rigidity;
    }
    elbow_ = 0.65 + 0.35 * random.uniform();
    const auto model =
        WheelModel::of(rim, spokes, {.elbow_factor = elbow_, .waves = kTrueWaves});
    ROLLWRIGHT_PROMISE(model);
    spokes_ = spokes;
    lateral_.resize(kTruePlaces);
    radial_.resize(kTruePlaces);
    for (const WheelSpoke& spoke : spokes) tension_.push_back(spoke.tension.in(newton));
    for (std::size_t i = 0; i < spokes.size(); ++i) {
      turns_.push_back(seen(*model, model->after_turn(static_cast<int>(i))));
    }
    bend(*model, random);
    build(random);
  }

  void turn(int spoke, double turns) { add(turns_[at(spoke)], turns); }

  [[nodiscard]] const std::vector<WheelSpoke>& spokes() const { return spokes_; }
  [[nodiscard]] double tension(int spoke) const { return tension_[at(spoke)]; }
  [[nodiscard]] double lateral(Angle where) const { return between(lateral_, where); }
  [[nodiscard]] double radial(Angle where) const { return between(radial_, where); }
  [[nodiscard]] double dish() const { return mean(lateral_); }
  [[nodiscard]] double lateral_run_out() const { return run_out(lateral_); }
  [[nodiscard]] double radial_run_out() const { return run_out(radial_); }
  [[nodiscard]] double elbow() const { return elbow_; }
  [[nodiscard]] double least_tension() const {
    return *std::min_element(tension_.begin(), tension_.end());
  }
  [[nodiscard]] double side_mean(WheelEnd end) const {
    double sum = 0, count = 0;
    for (std::size_t i = 0; i < spokes_.size(); ++i) {
      if (spokes_[i].end != end) continue;
      sum += tension_[i];
      count += 1;
    }
    return sum / count;
  }

  [[nodiscard]] bool true_enough(const TruingLimits& limits) const {
    return lateral_run_out() <= limits.lateral.in(mm) &&
           radial_run_out() <= limits.radial.in(mm) && std::fabs(dish()) <= limits.dish.in(mm);
  }
  [[nodiscard]] bool inside(const TruingLimits& limits) const {
    if (!true_enough(limits)) return false;
    const double left = side_mean(WheelEnd::kLeft);
    const double right = side_mean(WheelEnd::kRight);
    for (std::size_t i = 0; i < spokes_.size(); ++i) {
      const double side = spokes_[i].end == WheelEnd::kLeft ? left : right;
      if (std::fabs(tension_[i] / side - 1) > limits.spread) return false;
      if (tension_[i] > limits.highest.in(newton)) return false;
    }
    return std::fabs(left / limits.left.in(newton) - 1) <= limits.mean_within &&
           std::fabs(right / limits.right.in(newton) - 1) <= limits.mean_within;
  }

 private:
  struct Seen {
    std::vector<double> lateral, radial, tension;
  };

  static double mean(const std::vector<double>& rows) {
    double sum = 0;
    for (const double row : rows) sum += row;
    return sum / static_cast<double>(rows.size());
  }
  static double run_out(const std::vector<double>& rows) {
    const auto [least, most] = std::minmax_element(rows.begin(), rows.end());
    return *most - *least;
  }
  static double between(const std::vector<double>& rows, Angle where) {
    const double place = where.in(degree) * kTruePlaces / 360;
    const double share = place - std::floor(place);
    const std::size_t below = at(static_cast<int>(std::floor(place))) % kTruePlaces;
    return (1 - share) * rows[below] + share * rows[(below + 1) % kTruePlaces];
  }

  static Seen seen(const WheelModel& model, const WheelShape& shape) {
    Seen out{.tension = shape.tension_change};
    for (int i = 0; i < kTruePlaces; ++i) {
      const Angle where = 360.0 * i / kTruePlaces * degree;
      out.lateral.push_back(model.move(shape, RimDirection::kLateral, where));
      out.radial.push_back(model.move(shape, RimDirection::kRadial, where));
    }
    return out;
  }

  void add(const Seen& change, double times) {
    for (std::size_t i = 0; i < lateral_.size(); ++i) {
      lateral_[i] += times * change.lateral[i];
      radial_[i] += times * change.radial[i];
    }
    for (std::size_t i = 0; i < tension_.size(); ++i) tension_[i] += times * change.tension[i];
  }

  /// Smooth bends and a dent of some 10 degrees where the rim is joined.
  void bend(const WheelModel& model, Random& random) {
    for (const auto direction : {RimDirection::kLateral, RimDirection::kRadial}) {
      const bool lateral = direction == RimDirection::kLateral;
      const double dent = (lateral ? 0.04 : 0.05) * random.normal();
      const double place = 2 * 3.14159265358979 * random.uniform();
      constexpr double kWidth = 0.08;  // radians, standard deviation of the dent
      for (int waves = 2; waves <= 40; ++waves) {
        const double of_dent = dent * kWidth * std::sqrt(2 / 3.14159265358979) *
                               std::exp(-0.5 * waves * waves * kWidth * kWidth);
        const double smooth =
            waves <= 5 ? (lateral ? 0.25 : 0.15) * std::pow(2.0 / waves, 3) : 0;
        const double cosine = of_dent * std::cos(waves * place) + smooth * random.normal();
        const double sine = of_dent * std::sin(waves * place) + smooth * random.normal();
        add(seen(model, model.with_bend({direction, waves, false})), cosine);
        add(seen(model, model.with_bend({direction, waves, true})), sine);
      }
    }
  }

  void build(Random& random) {
    const double rough = 0.15 + 0.35 * random.uniform();
    const double aside = 0.1 * random.normal();
    for (std::size_t i = 0; i < spokes_.size(); ++i) {
      const double common = spokes_[i].end == WheelEnd::kLeft ? aside : -aside;
      turn(static_cast<int>(i), common + rough * random.normal());
    }
  }

  std::vector<WheelSpoke> spokes_;
  std::vector<double> lateral_, radial_, tension_;
  std::vector<Seen> turns_;
  double elbow_ = 1;
};

/// Spokes whose tension is read: all, every second pair, or none but a few.
std::vector<int> read_spokes(int spokes, Random& random) {
  std::vector<int> read;
  const double kind = random.uniform();
  for (int i = 0; i < spokes; ++i) {
    if (kind < 0.6 || (kind < 0.85 && i % 4 < 2) || (kind >= 0.85 && i % 3 == 0)) read.push_back(i);
  }
  return read;
}

TruingPass read_wheel(const TrueWheel& wheel, const std::vector<int>& read, Random& random) {
  TruingPass pass;
  const int places = 2 * static_cast<int>(wheel.spokes().size());
  const double zero_u = random.normal();
  const double zero_v = random.normal();
  for (int i = 0; i < places; ++i) {
    const Angle where = 360.0 * i / places * degree;
    pass.run_out.push_back({where, (wheel.lateral(where) + zero_u + kGauge * random.normal()) * mm,
                            (wheel.radial(where) + zero_v + kGauge * random.normal()) * mm});
  }
  pass.dish = (wheel.dish() + kDishGauge * random.normal()) * mm;
  for (const int spoke : read) {
    const double shown = std::max(0.0, wheel.tension(spoke) * (1 + kMeter * random.normal()));
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

/// A mechanic's rule of thumb: go to the worst spot, turn the spokes next to it by a quarter (a half
/// where it is more than twice out), look again. Uneven spokes trade a quarter with the neighbours
/// of their side.
class Thumb {
 public:
  Thumb(const TruingLimits& limits, const std::vector<WheelSpoke>& spokes)
      : limits_(limits), spokes_(spokes) {}

  /// Turns after these readings, at most `spots` places; none when the readings are inside.
  [[nodiscard]] std::vector<SpokeTurn> act(const TruingPass& pass, int spots) const {
    const int n = static_cast<int>(spokes_.size());
    std::vector<int> quarters(at(n));
    if (std::fabs(pass.dish->in(mm)) > limits_.dish.in(mm)) {
      // Draw the whole rim back: the far side a quarter tighter.
      const WheelEnd far = pass.dish->in(mm) > 0 ? WheelEnd::kRight : WheelEnd::kLeft;
      for (int i = 0; i < n; ++i) quarters[at(i)] += spokes_[at(i)].end == far ? 1 : 0;
      return turns(quarters, pass);
    }
    std::vector<bool> done(at(n));
    for (int spot = 0; spot < spots; ++spot) {
      if (!true_up(pass, done, quarters) && !even_out(pass, done, quarters)) break;
    }
    return turns(quarters, pass);
  }

 private:
  static double middle(const TruingPass& pass, std::optional<Length> RunOutReading::*which) {
    double least = 1e9, most = -1e9;
    for (const RunOutReading& place : pass.run_out) {
      least = std::min(least, (place.*which)->in(mm));
      most = std::max(most, (place.*which)->in(mm));
    }
    return (least + most) / 2;
  }

  /// The spoke of a side nearest to a place.
  [[nodiscard]] int nearest(Angle where, WheelEnd end) const {
    int best = 0;
    double least = 1e9;
    for (std::size_t i = 0; i < spokes_.size(); ++i) {
      if (spokes_[i].end != end) continue;
      const double apart = std::fabs(std::remainder((spokes_[i].at - where).in(degree), 360));
      if (apart < least) {
        least = apart;
        best = static_cast<int>(i);
      }
    }
    return best;
  }

  [[nodiscard]] bool true_up(const TruingPass& pass, std::vector<bool>& done,
                             std::vector<int>& quarters) const {
    const double u0 = middle(pass, &RunOutReading::lateral);
    const double v0 = middle(pass, &RunOutReading::radial);
    const RunOutReading* worst = nullptr;
    double most = 1;
    bool sideways = true;
    for (const RunOutReading& place : pass.run_out) {
      if (done[at(nearest(place.at, WheelEnd::kLeft))] ||
          done[at(nearest(place.at, WheelEnd::kRight))]) {
        continue;
      }
      const double u = std::fabs(place.lateral->in(mm) - u0) / (limits_.lateral.in(mm) / 2);
      const double v = std::fabs(place.radial->in(mm) - v0) / (limits_.radial.in(mm) / 2);
      if (std::max(u, v) <= most) continue;
      most = std::max(u, v);
      sideways = u >= v;
      worst = &place;
    }
    if (!worst) return false;
    const int left = nearest(worst->at, WheelEnd::kLeft);
    const int right = nearest(worst->at, WheelEnd::kRight);
    const int size = most > 2 ? 2 : 1;
    const double off = sideways ? worst->lateral->in(mm) - u0 : worst->radial->in(mm) - v0;
    // Out to the left: right tighter, left looser. Low (towards the axle): both looser.
    const int sign = off > 0 ? 1 : -1;
    if (sideways && most <= 2) {
      // One spoke is enough: tighten across unless that one is the tight one already.
      const int across = off > 0 ? right : left;
      const int here = off > 0 ? left : right;
      if (tightness(pass, across) > tightness(pass, here)) {
        quarters[at(here)] -= 1;
      } else {
        quarters[at(across)] += 1;
      }
    } else {
      quarters[at(left)] += -sign * (sideways ? 1 : size);
      quarters[at(right)] += sideways ? sign : -sign * size;
    }
    mark(left, done);
    mark(right, done);
    return true;
  }

  /// Reading over the side's target; 1 when it was not read.
  [[nodiscard]] double tightness(const TruingPass& pass, int spoke) const {
    const Force target =
        spokes_[at(spoke)].end == WheelEnd::kLeft ? limits_.left : limits_.right;
    for (const TensionReading& seen : pass.tensions) {
      if (seen.spoke == spoke) return seen.tension / target;
    }
    return 1;
  }

  [[nodiscard]] bool even_out(const TruingPass& pass, std::vector<bool>& done,
                              std::vector<int>& quarters) const {
    double sum[2] = {0, 0}, count[2] = {0, 0};
    const auto side = [&](int spoke) {
      return spokes_[at(spoke)].end == WheelEnd::kLeft ? std::size_t{0} : std::size_t{1};
    };
    for (const TensionReading& seen : pass.tensions) {
      sum[side(seen.spoke)] += seen.tension.in(newton);
      count[side(seen.spoke)] += 1;
    }
    int worst = -1;
    double most = limits_.spread;
    double sign = 0;
    for (const TensionReading& seen : pass.tensions) {
      const std::size_t s = side(seen.spoke);
      const double off = seen.tension.in(newton) / (sum[s] / count[s]) - 1;
      if (done[at(seen.spoke)] || std::fabs(off) <= most) continue;
      most = std::fabs(off);
      worst = seen.spoke;
      sign = off > 0 ? 1 : -1;
    }
    if (worst < 0) return false;
    const int n = static_cast<int>(spokes_.size());
    quarters[at(worst)] -= static_cast<int>(sign);
    quarters[at((worst + 1) % n)] -= static_cast<int>(sign);  // keeps it from moving sideways
    mark(worst, done);
    return true;
  }

  static void mark(int spoke, std::vector<bool>& done) {
    const int n = static_cast<int>(done.size());
    for (int i = -1; i <= 1; ++i) done[at((spoke + i + n) % n)] = true;
  }

  /// Nobody tightens a spoke that the meter shows past the limit; the neighbour across the rim is let
  /// go instead.
  [[nodiscard]] static std::vector<SpokeTurn> turns(std::vector<int> quarters,
                                                    const TruingPass& pass) {
    for (const TensionReading& seen : pass.tensions) {
      const std::size_t i = at(seen.spoke);
      if (seen.tension <= kHighest || quarters[i] <= 0) continue;
      quarters[(i + 1) % quarters.size()] -= quarters[i];
      quarters[i] = 0;
    }
    std::vector<SpokeTurn> out;
    for (std::size_t i = 0; i < quarters.size(); ++i) {
      if (quarters[i] != 0) out.push_back({static_cast<int>(i), quarters[i]});
    }
    return out;
  }

  const TruingLimits& limits_;
  const std::vector<WheelSpoke>& spokes_;
};

int make(TrueWheel& wheel, const std::vector<SpokeTurn>& turns, Random& random) {
  int quarters = 0;
  for (const SpokeTurn& turn : turns) {
    wheel.turn(turn.spoke, by_hand(turn.quarters, random));
    quarters += std::abs(turn.quarters);
  }
  return quarters;
}

struct Score {
  int inside[kPasses] = {0, 0, 0};
  int ever = 0;
  int true_at_end = 0;
  double quarters = 0;
  double quarters_of_ever = 0;
};

struct Timing {
  double sum_ms = 0, most_ms = 0, sum_36_ms = 0;
  int calls = 0, calls_36 = 0;
  void add(double ms, bool is_36) {
    sum_ms += ms;
    most_ms = std::max(most_ms, ms);
    calls += 1;
    if (is_36) {
      sum_36_ms += ms;
      calls_36 += 1;
    }
  }
};

struct Told {
  double foretold = 0;     // sum of stated probabilities of being inside after the turns
  double came_true = 0;
  int calls = 0;
  int bent = 0;
  int too_tight = 0;       // advised spokes that ended above the limit through the advice
  double elbow_error = 0;
  double elbow_first_error = 0;
};

void advise(const TruingWheel& known, TrueWheel wheel, const TruingLimits& limits, Random random,
            std::vector<int> read, Score& score, Timing& timing, Told& told) {
  TruingReadings readings{.passes = {}, .gauge = kGauge * mm, .dish_gauge = kDishGauge * mm};
  int quarters = 0;
  bool inside = false;
  for (int pass = 0; pass < kPasses; ++pass) {
    readings.passes.push_back(read_wheel(wheel, read, random));
    const auto start = std::chrono::steady_clock::now();
    const auto advice = truing_advice(known, readings, limits);
    const std::chrono::duration<double, std::milli> took =
        std::chrono::steady_clock::now() - start;
    ROLLWRIGHT_PROMISE(advice);
    timing.add(took.count(), wheel.spokes().size() == 36);
    std::vector<double> before;
    for (const SpokeTurn& turn : advice->turns) before.push_back(wheel.tension(turn.spoke));
    quarters += make(wheel, advice->turns, random);
    for (std::size_t i = 0; i < advice->turns.size(); ++i) {
      const double tension = wheel.tension(advice->turns[i].spoke);
      told.too_tight +=
          advice->turns[i].quarters > 0 && tension > kHighest.in(newton) && tension > before[i];
    }
    read = read_again(read, advice->read_next);
    readings.passes.back().turns = advice->turns;
    inside = wheel.inside(limits);
    score.inside[pass] += inside;
    told.foretold += advice->after.inside;
    told.came_true += inside;
    told.calls += 1;
    told.bent += pass == 0 && advice->verdict == TruingVerdict::kRimBent;
    if (pass == 0) told.elbow_first_error += std::fabs(advice->elbow_factor - wheel.elbow());
    if (pass == kPasses - 1) told.elbow_error += std::fabs(advice->elbow_factor - wheel.elbow());
  }
  score.quarters += quarters;
  score.ever += inside;
  score.quarters_of_ever += inside ? quarters : 0;
  score.true_at_end += wheel.true_enough(limits);
}

/// `rounds` looks in one pass, `spots` places for each look.
void by_thumb(TrueWheel wheel, const TruingLimits& limits, Random random,
              const std::vector<int>& read, int rounds, int spots, Score& score) {
  const Thumb thumb(limits, wheel.spokes());
  int quarters = 0;
  bool content = false;
  for (int pass = 0; pass < kMostThumbPasses; ++pass) {
    for (int round = 0; round < rounds && !content; ++round) {
      const auto turns = thumb.act(read_wheel(wheel, read, random), spots);
      content = turns.empty();
      quarters += make(wheel, turns, random);
    }
    if (pass < kPasses) score.inside[pass] += wheel.inside(limits);
  }
  score.quarters += quarters;
  const bool inside = wheel.inside(limits);
  score.ever += inside;
  score.quarters_of_ever += inside ? quarters : 0;
  score.true_at_end += wheel.true_enough(limits);
}

void show(const char* name, const Score& score, int wheels) {
  const auto share = [&](int count) { return static_cast<double>(count) / wheels; };
  fmt::print(
      "{:34} inside after 1, 2, 3 passes: {:.3f} {:.3f} {:.3f}; at its end {:.3f} (run-out and dish "
      "{:.3f}); turns a wheel {:.2f}, of those inside {:.2f}\n",
      name, share(score.inside[0]), share(score.inside[1]), share(score.inside[2]),
      share(score.ever), share(score.true_at_end), score.quarters / 4 / wheels,
      score.ever > 0 ? score.quarters_of_ever / 4 / score.ever : 0);
}

}  // namespace

int main(int argc, char** argv) {
  int wheels = 1000;
  for (int i = 1; i + 1 < argc; ++i) {
    if (std::string(argv[i]) == "--wheels") wheels = std::max(1, std::atoi(argv[i + 1]));
  }
  const auto all = kinds();
  std::vector<TruingWheel> known;
  for (const Kind& kind : all) {
    const auto spokes = laced(kind.lacing);
    ROLLWRIGHT_PROMISE(spokes);
    const auto wheel = TruingWheel::of(kind.rim, *spokes);
    ROLLWRIGHT_PROMISE(wheel);
    known.push_back(*wheel);
  }
  Score advised, thumb, hasty;
  Timing timing;
  Told told;
  int before = 0;
  double lateral = 0, radial = 0;
  const Random seed(20240);
  for (int i = 0; i < wheels; ++i) {
    const std::size_t kind = at(i) % all.size();
    Random random = seed.split(static_cast<std::uint64_t>(i));
    TrueWheel wheel(all[kind], random);
    while (wheel.least_tension() < 50) wheel = TrueWheel(all[kind], random);
    const TruingLimits limits = limits_of(all[kind]);
    const int n = static_cast<int>(wheel.spokes().size());
    const auto read = read_spokes(n, random);
    before += wheel.inside(limits);
    lateral += wheel.lateral_run_out() / wheels;
    radial += wheel.radial_run_out() / wheels;
    advise(known[kind], wheel, limits, random.split(1), read, advised, timing, told);
    by_thumb(wheel, limits, random.split(2), read, n / 2, 1, thumb);
    by_thumb(wheel, limits, random.split(3), read, 1, n / 4, hasty);
  }
  fmt::print(
      "{} invented wheels; limits: run-out 0.4 mm sideways and 0.4 mm radially (greatest less "
      "least), dish 0.5 mm, spokes within 20 % of their side's mean, means within 15 % of the "
      "target, no spoke above 1300 N. Inside before any turn: {:.3f}; mean run-out {:.2f} and "
      "{:.2f} mm. Tensions of all, half or a third of the spokes are read.\n",
      wheels, static_cast<double>(before) / wheels, lateral, radial);
  fmt::print("inside_* are shares of wheels; turns are whole turns, either way, mean per wheel.\n");
  show("advice", advised, wheels);
  show("rule of thumb, gauge at each spot", thumb, wheels);
  show("rule of thumb, once round at a time", hasty, wheels);
  fmt::print(
      "advice foretold {:.3f} inside after its turns, {:.3f} came true; elbow factor off by {:.3f} "
      "after pass 1, {:.3f} after pass {}; rims called bent {}; turned spokes that passed the "
      "highest tension {}\n",
      told.foretold / told.calls, told.came_true / told.calls, told.elbow_first_error / wheels,
      told.elbow_error / wheels, kPasses, told.bent, told.too_tight);
  const double mean_ms = timing.calls_36 > 0 ? timing.sum_36_ms / timing.calls_36 : 0;
  fmt::print("advice for 36 spokes {:.1f} ms (mean), any wheel {:.1f} ms (most)\n", mean_ms,
             timing.most_ms);
  const double count = wheels;
  const double turns = advised.quarters / 4 / count;
  const double thumb_turns = thumb.quarters / 4 / count;
  const bool holds =
      advised.inside[2] / count >= 0.95 && turns <= thumb_turns / 2 && mean_ms <= 50;
  fmt::print(
      "{{\"name\":\"truing\",\"holds\":{},\"figures\":{{\"wheels\":{},\"inside_after_1\":{:.4f},"
      "\"inside_after_2\":{:.4f},\"inside_after_3\":{:.4f},\"turns\":{:.3f},"
      "\"rule_of_thumb_inside_after_3\":{:.4f},\"rule_of_thumb_turns\":{:.3f},"
      "\"advice_ms\":{:.2f}}}}}\n",
      holds, wheels, advised.inside[0] / count, advised.inside[1] / count,
      advised.inside[2] / count, turns, thumb.inside[2] / count, thumb_turns, mean_ms);
  return holds ? 0 : 1;
}
