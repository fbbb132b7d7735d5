#include "mech/truing.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>

#include "base/index.hpp"
#include "base/random.hpp"
#include "mech/truing_belief.hpp"
#include "mech/truing_lattice.hpp"
#include "mech/truing_turns.hpp"

namespace rollwright::mech {
namespace {

// All wheels here are invented; the rim is the published one of [wheel-thesis].
RimSection shallow_rim() {
  return {.radius = 304 * mm,
          .bending_radial = 111,
          .bending_lateral = 219,
          .torsion = 26.3,
          .rigidity = 7.2e6 * newton};
}

std::vector<WheelSpoke> front_spokes() {
  const LacedSide side{.flange = {.circle = 45 * mm, .offset = 35 * mm, .holes = 16, .crosses = 3},
                       .rigidity = 522e3 * newton,
                       .tension = 1000 * newton};
  return *laced({.left = side, .right = side, .nipple_circle = 600 * mm});
}

const TruingWheel& front() {
  static const TruingWheel wheel = *TruingWheel::of(shallow_rim(), front_spokes());
  return wheel;
}

TruingLimits front_limits() {
  return {.lateral = 0.4 * mm,
          .radial = 0.4 * mm,
          .left = 1000 * newton,
          .right = 1000 * newton,
          .highest = 1300 * newton};
}

/// A wheel of one elbow factor that does exactly what the model says.
class Stand {
 public:
  explicit Stand(double elbow_factor = 0.82)
      : model_(*WheelModel::of(shallow_rim(), front_spokes(),
                               {.elbow_factor = elbow_factor, .waves = 48})),
        tension_(model_.spokes().size(), 1000) {}

  void turn(int spoke, double turns) { add(model_.after_turn(spoke), turns); }
  void bend(const RimBend& bend, double size_mm) { add(model_.with_bend(bend), size_mm); }
  void make(const std::vector<SpokeTurn>& turns) {
    for (const SpokeTurn& each : turns) turn(each.spoke, each.quarters / 4.0);
  }

  [[nodiscard]] TruingPass read(double noise_mm = 0, Random* random = nullptr) const {
    TruingPass pass;
    for (int i = 0; i < 64; ++i) {
      const Angle where = 360.0 * i / 64 * degree;
      const auto noise = [&] { return random ? noise_mm * random->normal() : 0; };
      pass.run_out.push_back({where, (at_place(RimDirection::kLateral, where) + 3 + noise()) * mm,
                              (at_place(RimDirection::kRadial, where) - 1 + noise()) * mm});
    }
    for (std::size_t i = 0; i < tension_.size(); ++i) {
      pass.tensions.push_back({static_cast<int>(i), tension_[i] * newton, 40 * newton});
    }
    pass.dish = dish() * mm;
    return pass;
  }

  [[nodiscard]] double at_place(RimDirection direction, Angle where) const {
    double sum = 0;
    for (const auto& [shape, times] : shapes_) sum += times * model_.move(shape, direction, where);
    return sum;
  }
  [[nodiscard]] double run_out(RimDirection direction) const {
    double least = 1e9, most = -1e9;
    for (int i = 0; i < 120; ++i) {
      least = std::min(least, at_place(direction, 3.0 * i * degree));
      most = std::max(most, at_place(direction, 3.0 * i * degree));
    }
    return most - least;
  }
  [[nodiscard]] double dish() const {
    double sum = 0;
    for (int i = 0; i < 90; ++i) sum += at_place(RimDirection::kLateral, 4.0 * i * degree) / 90;
    return sum;
  }
  [[nodiscard]] const std::vector<double>& tension_n() const { return tension_; }

 private:
  void add(const WheelShape& shape, double times) {
    shapes_.emplace_back(shape, times);
    for (std::size_t i = 0; i < tension_.size(); ++i) {
      tension_[i] += times * shape.tension_change[i];
    }
  }
  WheelModel model_;
  std::vector<std::pair<WheelShape, double>> shapes_;
  std::vector<double> tension_;
};

int quarters_in(const std::vector<SpokeTurn>& turns) {
  int sum = 0;
  for (const SpokeTurn& turn : turns) sum += std::abs(turn.quarters);
  return sum;
}

TEST(TruingAdvice, LeavesATrueWheelAlone) {
  const auto advice = truing_advice(front(), {.passes = {Stand().read()}}, front_limits());
  ASSERT_TRUE(advice) << advice.error().full();
  EXPECT_EQ(advice->verdict, TruingVerdict::kInside);
  EXPECT_TRUE(advice->turns.empty());
  EXPECT_GT(advice->now.inside, 0.95);
  EXPECT_NEAR(advice->now.left.in(newton), 1000, 10);
}

TEST(TruingAdvice, DrawsTheRimAsItRanAndAsItWillRun) {
  Stand stand;
  stand.turn(7, 0.75);
  const auto advice = truing_advice(front(), {.passes = {stand.read()}}, front_limits());
  ASSERT_TRUE(advice) << advice.error().full();
  ASSERT_EQ(advice->now.rim.size(), 2 * front().spokes().size());
  for (const TruingState* state : {&advice->now, &advice->after}) {
    const auto [least, most] = std::ranges::minmax_element(state->rim, {}, &RimPlace::lateral);
    EXPECT_NEAR((most->lateral - least->lateral).in(mm), state->lateral.in(mm), 1e-9);
  }
  const auto here = std::ranges::max_element(advice->now.rim, {}, [](const RimPlace& place) {
    return std::fabs(place.lateral.in(mm));
  });
  EXPECT_NEAR((here->at - front().spokes()[7].at).in(degree), 0, 360.0 / 32 + 1e-6);
}

TEST(TruingAdvice, TurnsBackTheOneSpokeThatIsOff) {
  for (const int spoke : {0, 7, 22}) {
    for (const int quarters : {-3, 2, 4}) {
      SCOPED_TRACE(testing::Message() << "spoke " << spoke << ", " << quarters);
      Stand stand;
      stand.turn(spoke, quarters / 4.0);
      const auto advice = truing_advice(front(), {.passes = {stand.read()}}, front_limits());
      ASSERT_TRUE(advice) << advice.error().full();
      EXPECT_EQ(advice->verdict, TruingVerdict::kTurn);
      ASSERT_FALSE(advice->turns.empty());
      EXPECT_LE(quarters_in(advice->turns), std::abs(quarters));
      const auto own = std::find_if(advice->turns.begin(), advice->turns.end(),
                                    [&](const SpokeTurn& turn) { return turn.spoke == spoke; });
      ASSERT_NE(own, advice->turns.end());
      EXPECT_LT(own->quarters * quarters, 0);
      stand.make(advice->turns);
      EXPECT_LE(stand.run_out(RimDirection::kLateral), 0.4);
      EXPECT_NEAR(advice->after.lateral.in(mm), stand.run_out(RimDirection::kLateral), 0.15);
    }
  }
}

TEST(TruingAdvice, BringsRoughWheelsInsideAndForetellsThem) {
  Random random(41);
  for (int trial = 0; trial < 6; ++trial) {
    SCOPED_TRACE(testing::Message() << "seed 41, trial " << trial);
    Stand stand(0.65 + 0.05 * trial);
    for (int i = 0; i < 32; ++i) stand.turn(i, 0.3 * random.normal());
    stand.bend({.direction = RimDirection::kLateral, .waves = 2}, 0.3);
    TruingReadings readings;
    TruingState last;
    for (int pass = 0; pass < 3; ++pass) {
      readings.passes.push_back(stand.read(0.02, &random));
      const auto advice = truing_advice(front(), readings, front_limits());
      ASSERT_TRUE(advice) << advice.error().full();
      for (const SpokeTurn& turn : advice->turns) {
        EXPECT_LE(std::abs(turn.quarters), 4);
        EXPECT_NE(turn.quarters, 0);
      }
      stand.make(advice->turns);
      readings.passes.back().turns = advice->turns;
      last = advice->after;
    }
    EXPECT_LE(stand.run_out(RimDirection::kLateral), 0.4);
    EXPECT_LE(stand.run_out(RimDirection::kRadial), 0.4);
    EXPECT_NEAR(last.lateral.in(mm), stand.run_out(RimDirection::kLateral), 0.1);
    for (std::size_t i = 0; i < 32; ++i) {
      EXPECT_NEAR(last.tensions[i].in(newton), stand.tension_n()[i],
                  4 * last.uncertainties[i].in(newton));
    }
  }
}

TEST(TruingAdvice, LearnsTheElbowFactorFromWhatTurnsDid) {
  for (const double factor : {0.65, 1.0}) {
    Stand stand(factor);
    Random random(5);
    for (int i = 0; i < 32; ++i) stand.turn(i, 0.3 * random.normal());
    TruingReadings readings;
    double learnt = 0;
    for (int pass = 0; pass < 2; ++pass) {
      readings.passes.push_back(stand.read(0.02, &random));
      const auto advice = truing_advice(front(), readings, front_limits());
      ASSERT_TRUE(advice);
      learnt = advice->elbow_factor;
      stand.make(advice->turns);
      readings.passes.back().turns = advice->turns;
    }
    EXPECT_NEAR(learnt, factor, 0.09) << "true factor " << factor;
  }
}

TEST(TruingAdvice, NeverAdvisesTighteningPastTheHighestTension) {
  Random random(77);
  for (int trial = 0; trial < 8; ++trial) {
    Stand stand;
    for (int i = 0; i < 32; ++i) stand.turn(i, 0.15 + 0.35 * random.normal());
    TruingLimits limits = front_limits();
    limits.highest = 1150 * newton;
    limits.most_quarters = 2;
    const auto advice = truing_advice(front(), {.passes = {stand.read()}}, limits);
    ASSERT_TRUE(advice);
    for (std::size_t i = 0; i < 32; ++i) {
      const double before = advice->now.tensions[i].in(newton);
      const double after = advice->after.tensions[i].in(newton);
      if (after <= before + 1e-6) continue;
      EXPECT_LE(after + 1.645 * advice->after.uncertainties[i].in(newton), 1150 + 1e-6)
          << "seed 77, trial " << trial << ", spoke " << i;
    }
    for (const SpokeTurn& turn : advice->turns) EXPECT_LE(std::abs(turn.quarters), 2);
  }
}

TEST(TruingAdvice, SaysWhereARimIsBentBeyondTruing) {
  Stand stand;
  // Eight waves of 0.8 mm: the rim is far stiffer than the spokes against them.
  stand.bend({.direction = RimDirection::kLateral, .waves = 8}, 0.8);
  const auto advice = truing_advice(front(), {.passes = {stand.read()}}, front_limits());
  ASSERT_TRUE(advice);
  ASSERT_EQ(advice->verdict, TruingVerdict::kRimBent);
  ASSERT_TRUE(advice->bent);
  EXPECT_EQ(advice->bent->direction, RimDirection::kLateral);
  EXPECT_GT(advice->bent->size, 0.4 * mm);
  EXPECT_LT(advice->bent->size, 1.8 * mm);
  // Crests and troughs of cos 8 angle lie at multiples of 22.5 degrees.
  const double crest = std::remainder(advice->bent->at.in(degree), 22.5);
  EXPECT_NEAR(crest, 0, 6);
  const double sign = std::cos(8 * advice->bent->at.in(radian));
  EXPECT_GT(sign * advice->bent->towards.in(mm), 0);
}

TEST(TruingAdvice, DoesNotCallARimBentThatSpokesCanPull) {
  Stand stand;
  stand.bend({.direction = RimDirection::kLateral, .waves = 2}, 1.0);
  stand.bend({.direction = RimDirection::kRadial, .waves = 3}, 0.5);
  const auto advice = truing_advice(front(), {.passes = {stand.read()}}, front_limits());
  ASSERT_TRUE(advice);
  EXPECT_NE(advice->verdict, TruingVerdict::kRimBent);
  stand.make(advice->turns);
  EXPECT_LT(stand.run_out(RimDirection::kLateral), 0.6);
}

TEST(TruingAdvice, WorksWithoutAMeterAndAsksForReadings) {
  Stand stand;
  stand.turn(4, 0.75);
  TruingPass pass = stand.read();
  pass.tensions.clear();
  const auto blind = truing_advice(front(), {.passes = {pass}}, front_limits());
  ASSERT_TRUE(blind);
  EXPECT_EQ(blind->read_next.size(), 32u);
  const double before = stand.run_out(RimDirection::kLateral);
  stand.make(blind->turns);
  EXPECT_LE(stand.run_out(RimDirection::kLateral), 0.6 * before);
  // Readings of one side leave the other to be asked for first.
  pass = stand.read();
  std::erase_if(pass.tensions, [](const TensionReading& seen) { return seen.spoke % 2 == 1; });
  const auto half = truing_advice(front(), {.passes = {pass}}, front_limits());
  ASSERT_TRUE(half);
  EXPECT_LT(half->now.uncertainties[0], half->now.uncertainties[1]);
  ASSERT_FALSE(half->read_next.empty());
  EXPECT_EQ(half->read_next.front() % 2, 1);
  EXPECT_LT(half->now.uncertainties[1], blind->now.uncertainties[1]);
}

TEST(TruingAdvice, DrawsTheRimBackToTheMiddle) {
  Stand stand;
  for (int i = 0; i < 32; i += 2) stand.turn(i, 0.5);
  ASSERT_GT(stand.dish(), 0.8);
  const auto advice = truing_advice(front(), {.passes = {stand.read()}}, front_limits());
  ASSERT_TRUE(advice);
  EXPECT_TRUE(advice->dish_known);
  stand.make(advice->turns);
  EXPECT_LE(std::fabs(stand.dish()), 0.5);
  EXPECT_NEAR(advice->after.dish.in(mm), stand.dish(), 0.3);
  // Without a reading of the dish the rim is kept where it is.
  Stand other;
  other.turn(3, 0.6);
  TruingPass pass = other.read();
  const double before = other.dish();
  pass.dish.reset();
  const auto unsure = truing_advice(front(), {.passes = {pass}}, front_limits());
  ASSERT_TRUE(unsure);
  EXPECT_FALSE(unsure->dish_known);
  other.make(unsure->turns);
  EXPECT_NEAR(other.dish(), before, 0.3);
}

TEST(TruingAdvice, IsTheSameEveryTime) {
  Random random(3);
  Stand stand;
  for (int i = 0; i < 32; ++i) stand.turn(i, 0.3 * random.normal());
  const TruingReadings readings{.passes = {stand.read()}};
  const auto one = truing_advice(front(), readings, front_limits());
  const auto two = truing_advice(front(), readings, front_limits());
  ASSERT_EQ(one->turns.size(), two->turns.size());
  for (std::size_t i = 0; i < one->turns.size(); ++i) {
    EXPECT_EQ(one->turns[i].spoke, two->turns[i].spoke);
    EXPECT_EQ(one->turns[i].quarters, two->turns[i].quarters);
  }
  EXPECT_EQ(one->after.inside, two->after.inside);
}

TEST(TruingAdvice, RefusesReadingsItCannotUse) {
  const TruingPass good = Stand().read();
  const auto refusal = [&](auto change) {
    TruingReadings readings{.passes = {good}};
    TruingLimits limits = front_limits();
    change(readings, limits);
    const auto advice = truing_advice(front(), readings, limits);
    EXPECT_FALSE(advice);
    return advice ? Error{} : advice.error();
  };
  const auto no_pass = refusal([](auto& r, auto&) { r.passes.clear(); });
  EXPECT_EQ(no_pass.place.field, "passes");
  const auto few = refusal([](auto& r, auto&) { r.passes[0].run_out.resize(7); });
  EXPECT_EQ(few.code, Code::kBadInput);
  EXPECT_NE(few.sentence.find("Pass 1: run-out is read at 7 places"), std::string::npos);
  const auto stranger = refusal([](auto& r, auto&) { r.passes[0].tensions[0].spoke = 32; });
  EXPECT_EQ(stranger.code, Code::kOutOfRange);
  EXPECT_EQ(stranger.place.field, "spoke");
  const auto sure = refusal([](auto& r, auto&) { r.passes[0].tensions[0].uncertainty = {}; });
  EXPECT_EQ(sure.place.field, "uncertainty of a tension");
  const auto turned = refusal([](auto& r, auto&) { r.passes[0].turns = {{1, 2}}; });
  EXPECT_EQ(turned.place.field, "turns");
  const auto twice = refusal([](auto& r, auto&) {
    r.passes.push_back(r.passes[0]);
    r.passes[0].turns = {{1, 2}, {1, -1}};
  });
  EXPECT_NE(twice.sentence.find("turned twice"), std::string::npos);
  const auto nothing = refusal([](auto&, auto& l) { l.lateral = 0 * mm; });
  EXPECT_EQ(nothing.place.field, "lateral limit");
  const auto limitless = refusal([](auto&, auto& l) { l.highest = {}; });
  EXPECT_EQ(limitless.place.field, "highest tension");
  const auto nan = refusal([](auto& r, auto&) { r.passes[0].run_out[0].lateral = NAN * mm; });
  EXPECT_EQ(nan.place.field, "lateral reading");
  EXPECT_FALSE(TruingWheel::of(shallow_rim(), front_spokes(), 0.9, 0.8));
  EXPECT_FALSE(TruingWheel::of(shallow_rim(), front_spokes(), 0.1, 0.8));
  auto one_sided = front_spokes();
  for (WheelSpoke& spoke : one_sided) spoke.end = WheelEnd::kLeft;
  EXPECT_EQ(TruingWheel::of(shallow_rim(), one_sided).error().code, Code::kContradiction);
}

TEST(TruingBelief, LearnsTheSameInTwoHalvesAsAtOnce) {
  Stand stand;
  Random random(9);
  for (int i = 0; i < 32; ++i) stand.turn(i, 0.3 * random.normal());
  const TruingPass both = stand.read(0.03, &random);
  TruingPass rim = both, meter = both;
  rim.tensions.clear();
  meter.run_out.clear();
  meter.dish.reset();
  const TruingInfluence& influence = front().members().front();
  TruingBelief once(influence, front().spokes());
  TruingBelief twice(influence, front().spokes());
  once.read(both, {});
  twice.read(rim, {});
  twice.read(meter, {});
  for (std::size_t i = 0; i < once.mean().size(); ++i) {
    EXPECT_NEAR(once.mean()[i], twice.mean()[i], 1e-8);
  }
  EXPECT_NEAR(once.log_evidence(), twice.log_evidence(), 1e-6);
  EXPECT_NEAR(once.uncertainty(influence.tension_row(3)),
              twice.uncertainty(influence.tension_row(3)), 1e-6);
}

TEST(TruingBelief, IsAsSureAsItsDrawsAreSpread) {
  TruingBelief belief(front().members().front(), front().spokes());
  belief.read(Stand().read(), {});
  const double* row = belief.influence().tension_row(5);
  const std::size_t n = belief.mean().size();
  const double before = belief.uncertainty(row);
  belief.turn({{5, 2}});
  EXPECT_GT(belief.uncertainty(row), before) << "hands err";
  Random random(12);
  double sum = 0, squares = 0;
  constexpr int kDraws = 4000;
  for (int i = 0; i < kDraws; ++i) {
    std::vector<double> normals(n);
    for (double& normal : normals) normal = random.normal();
    const auto causes = belief.draw(normals);
    const double tension = dot(row, causes.data(), n);
    sum += tension;
    squares += tension * tension;
  }
  const double mean = sum / kDraws;
  EXPECT_NEAR(mean, dot(row, belief.mean().data(), n), 4 * belief.uncertainty(row) / 60);
  EXPECT_NEAR(std::sqrt(squares / kDraws - mean * mean) / belief.uncertainty(row), 1, 0.05);
}

/// An invented small wheel-like problem: two bands of rows over a few spokes.
TurnProblem small_problem(Random& random, int spokes) {
  TurnProblem problem{.spokes = spokes, .most_quarters = 2, .bands = {}};
  const double half = 0.6 + 0.8 * random.uniform();
  for (const bool floating : {true, false}) {
    TurnBand band{.least = -half, .most = half, .floating = floating};
    const int rows = floating ? 2 * spokes : spokes;
    band.change.assign(at(spokes), std::vector<double>(at(rows)));
    std::vector<double> hidden(at(spokes));
    for (double& x : hidden) x = 1.2 * random.normal();
    for (int i = 0; i < rows; ++i) {
      double now = 0.1 * random.normal();
      for (int j = 0; j < spokes; ++j) {
        const double angle = 6.283185307 * (static_cast<double>(i) / rows -
                                            static_cast<double>(j) / spokes);
        const double sign = j % 2 == 0 ? 1 : -1;
        const double change = floating ? sign * (0.6 * std::cos(angle) + 0.3 * std::cos(2 * angle))
                                       : (i == j ? 0.7 : -0.2 * std::cos(angle));
        band.change[at(j)][at(i)] = change;
        now += change * hidden[at(j)];
      }
      band.now.push_back(now);
    }
    problem.bands.push_back(std::move(band));
  }
  return problem;
}

/// Least excess, then fewest quarters, over all choices.
TurnChoice by_enumeration(const TurnProblem& problem) {
  const int most = problem.most_quarters;
  std::vector<int> quarters(at(problem.spokes), -most);
  TurnChoice best{.quarters = {}, .count = 0, .excess = 1e9};
  for (;;) {
    TurnChoice choice{.quarters = quarters, .count = 0,
                      .excess = excess_of(problem, {quarters.begin(), quarters.end()})};
    if (choice.excess < 1e-9) choice.excess = 0;
    for (const int q : quarters) choice.count += std::abs(q);
    if (std::tie(choice.excess, choice.count) < std::tie(best.excess, best.count)) best = choice;
    std::size_t i = 0;
    while (i < quarters.size() && quarters[i] == most) quarters[i++] = -most;
    if (i == quarters.size()) return best;
    quarters[i] += 1;
  }
}

TEST(FewestTurns, AgreesWithEnumerationOnSmallCases) {
  Random random(2024);
  int reachable = 0, reached = 0, fewest = 0, unreachable = 0, as_near = 0, over = 0;
  for (int trial = 0; trial < 120; ++trial) {
    const TurnProblem problem = small_problem(random, 6);
    const TurnChoice exact = by_enumeration(problem);
    const TurnChoice found = fewest_turns(problem);
    ASSERT_NEAR(excess_of(problem, {found.quarters.begin(), found.quarters.end()}), found.excess,
                1e-8);
    ASSERT_GE(found.excess, exact.excess - 1e-9);
    if (exact.excess == 0) {
      reachable += 1;
      reached += found.excess == 0;
      if (found.excess == 0) {
        ASSERT_GE(found.count, exact.count);
        fewest += found.count == exact.count;
        over = std::max(over, found.count - exact.count);
      }
    } else {
      unreachable += 1;
      as_near += found.excess <= exact.excess + 1e-6;
    }
  }
  EXPECT_GT(reachable, 30);
  EXPECT_GT(unreachable, 10);
  EXPECT_GE(reached, 0.97 * reachable);
  EXPECT_GE(fewest, 0.9 * reachable);
  EXPECT_GE(as_near, 0.85 * unreachable);
  EXPECT_LE(over, 3);
  std::printf("reachable %d reached %d fewest %d; unreachable %d as near %d; over %d\n", reachable,
              reached, fewest, unreachable, as_near, over);
}

TEST(FewestTurns, NeverEndsPastAHardBound) {
  Random random(8);
  for (int trial = 0; trial < 60; ++trial) {
    TurnProblem problem = small_problem(random, 6);
    problem.bands[1].hard = true;
    const TurnBand& hard = problem.bands[1];
    const TurnChoice found = fewest_turns(problem);
    for (std::size_t i = 0; i < hard.now.size(); ++i) {
      double row = hard.now[i];
      for (std::size_t j = 0; j < 6; ++j) row += found.quarters[j] * hard.change[j][i];
      EXPECT_LE(row, std::max(hard.most, hard.now[i]) + 1e-6) << "seed 8, trial " << trial;
    }
  }
}

TEST(SmoothTurns, AreNoWorseThanAnyWholeTurns) {
  Random random(31);
  for (int trial = 0; trial < 40; ++trial) {
    const TurnProblem problem = small_problem(random, 5);
    const double smooth = excess_of(problem, smooth_turns(problem));
    const TurnChoice exact = by_enumeration(problem);
    EXPECT_LE(smooth, exact.excess + 1e-3) << "seed 31, trial " << trial;
  }
}

}  // namespace
}  // namespace rollwright::mech
