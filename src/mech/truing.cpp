#include "mech/truing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "base/index.hpp"
#include "mech/field_range.hpp"
#include "mech/truing_lattice.hpp"
#include "mech/truing_odds.hpp"

namespace rollwright::mech {
namespace {

constexpr double kElbowStep = 0.09;  // between members: 3 % of lateral stiffness
// Two ways to aim: with few quarters, and well inside.
constexpr Caution kCautions[] = {{1.5, 0.6}, {3, 0.4}};
constexpr double kPrice = 0.005;     // probability that one quarter turn must be worth
constexpr int kRounds = 6;           // quarters changed to make it likelier
constexpr Sampling kChosenBy = {.draws = 200, .seed = 2};
constexpr Sampling kToldBy = {.draws = 200, .seed = 1};
constexpr double kSure = 0.95;        // probability at which a wheel is left alone
constexpr double kWorthwhile = 0.02;  // gain of probability for which nipples are touched
constexpr double kUnlikely = 0.01;   // elbow factors below this are dropped
constexpr std::size_t kLeastPlaces = 8;

std::unexpected<Error> in_pass(std::size_t pass, Error error) {
  error.sentence = fmt::format("Pass {}: {}", pass + 1, error.sentence);
  return std::unexpected(std::move(error));
}

std::optional<Error> limits_outside(const TruingLimits& limits) {
  return first_outside({{"lateral limit", limits.lateral.in(mm), 0.05, 10, "mm"},
                        {"radial limit", limits.radial.in(mm), 0.05, 10, "mm"},
                        {"dish limit", limits.dish.in(mm), 0.05, 10, "mm"},
                        {"tension spread", limits.spread, 0.02, 0.5, ""},
                        {"left tension to build to", limits.left.in(newton), 50, 3000, "N"},
                        {"right tension to build to", limits.right.in(newton), 50, 3000, "N"},
                        {"share of the mean tension", limits.mean_within, 0.02, 0.5, ""},
                        {"highest tension", limits.highest.in(newton), 100, 3000, "N"},
                        {"quarters in one pass", static_cast<double>(limits.most_quarters), 1, 8,
                         ""}});
}

std::optional<Error> spoke_problem(int spoke, int spokes) {
  return first_outside({{"spoke", static_cast<double>(spoke), 0, static_cast<double>(spokes - 1),
                         ""}});
}

std::optional<Error> turns_problem(const std::vector<SpokeTurn>& turns, int spokes) {
  std::set<int> seen;
  for (const SpokeTurn& turn : turns) {
    if (auto error = spoke_problem(turn.spoke, spokes)) return error;
    if (auto error = first_outside(
            {{"quarters turned", static_cast<double>(turn.quarters), -16, 16, ""}})) {
      return error;
    }
    if (!seen.insert(turn.spoke).second) {
      return Error{Code::kBadInput,
                   fmt::format("spoke {} is turned twice; give the sum of its quarters.",
                               turn.spoke),
                   {.field = "turns"}};
    }
  }
  return std::nullopt;
}

std::optional<Error> run_out_problem(const std::vector<RunOutReading>& places) {
  std::size_t lateral = 0;
  std::size_t radial = 0;
  for (const RunOutReading& place : places) {
    if (auto error = first_outside(
            {{"place on the rim", place.at.in(degree), -720, 720, "°"},
             {"lateral reading", place.lateral.value_or(Length{}).in(mm), -20, 20, "mm"},
             {"radial reading", place.radial.value_or(Length{}).in(mm), -20, 20, "mm"}})) {
      return error;
    }
    lateral += place.lateral ? 1 : 0;
    radial += place.radial ? 1 : 0;
  }
  if (lateral >= kLeastPlaces && radial >= kLeastPlaces) return std::nullopt;
  return Error{Code::kBadInput,
               fmt::format("run-out is read at {} places sideways and {} radially; at least {} of "
                           "each are needed, and two to a spoke are best.",
                           lateral, radial, kLeastPlaces),
               {.field = "run-out"}};
}

std::optional<Error> pass_problem(const TruingPass& pass, int spokes) {
  if (auto error = run_out_problem(pass.run_out)) return error;
  for (const TensionReading& seen : pass.tensions) {
    if (auto error = spoke_problem(seen.spoke, spokes)) return error;
    if (auto error = first_outside(
            {{"tension", seen.tension.in(newton), 0, 5000, "N"},
             {"uncertainty of a tension", seen.uncertainty.in(newton), 1, 1000, "N"}})) {
      return error;
    }
  }
  if (auto error =
          first_outside({{"dish", pass.dish.value_or(Length{}).in(mm), -20, 20, "mm"}})) {
    return error;
  }
  return turns_problem(pass.turns, spokes);
}

Result<void> checked(const TruingReadings& readings, int spokes) {
  if (auto error =
          first_outside({{"passes", static_cast<double>(readings.passes.size()), 1, 20, ""},
                         {"gauge uncertainty", readings.gauge.in(mm), 0.001, 1, "mm"},
                         {"dish uncertainty", readings.dish_gauge.in(mm), 0.01, 2, "mm"}})) {
    return std::unexpected(*error);
  }
  for (std::size_t i = 0; i < readings.passes.size(); ++i) {
    if (auto error = pass_problem(readings.passes[i], spokes)) return in_pass(i, *error);
  }
  if (readings.passes.back().turns.empty()) return {};
  return refuse(Code::kBadInput,
                "Turns were made after the last readings; read the wheel again before asking.",
                {.field = "turns"});
}

std::vector<TruingBelief> beliefs_of(const TruingWheel& wheel, const TruingReadings& readings) {
  std::vector<TruingBelief> beliefs;
  for (const TruingInfluence& member : wheel.members()) {
    TruingBelief belief(member, wheel.spokes());
    for (const TruingPass& pass : readings.passes) {
      belief.read(pass, readings);
      belief.turn(pass.turns);
    }
    beliefs.push_back(std::move(belief));
  }
  return beliefs;
}

/// The likeliest first.
std::vector<WeighedOutlook> weighed(const TruingWheel& wheel,
                                    const std::vector<TruingBelief>& beliefs) {
  double best = beliefs.front().log_evidence();
  for (const TruingBelief& belief : beliefs) best = std::max(best, belief.log_evidence());
  std::vector<WeighedOutlook> outlooks;
  double sum = 0;
  for (const TruingBelief& belief : beliefs) {
    const double weight = std::exp(belief.log_evidence() - best);
    if (weight < kUnlikely) continue;
    outlooks.push_back({TruingOutlook(belief, wheel.spokes()), weight});
    sum += weight;
  }
  for (WeighedOutlook& outlook : outlooks) outlook.probability /= sum;
  std::stable_sort(outlooks.begin(), outlooks.end(),
                   [](const WeighedOutlook& a, const WeighedOutlook& b) {
                     return a.probability > b.probability;
                   });
  return outlooks;
}

std::vector<SpokeTurn> turns_of(const std::vector<int>& quarters) {
  std::vector<SpokeTurn> turns;
  for (std::size_t i = 0; i < quarters.size(); ++i) {
    if (quarters[i] != 0) turns.push_back({static_cast<int>(i), quarters[i]});
  }
  return turns;
}

std::vector<double> turned(std::vector<double> causes, const std::vector<double>& quarters) {
  for (std::size_t i = 0; i < quarters.size(); ++i) causes[i] += quarters[i] / 4;
  return causes;
}

std::vector<double> as_numbers(const std::vector<int>& quarters) {
  return {quarters.begin(), quarters.end()};
}

/// The run-out that stays with the best turns of any size, when it passes the limit for sure.
std::optional<BentRim> bent_rim(const TruingOutlook& outlook, const TurnProblem& problem,
                                const TruingLimits& limits) {
  const auto left = outlook.view(turned(outlook.belief().mean(), smooth_turns(problem)));
  std::optional<BentRim> worst;
  double most_over = 1;
  for (const auto direction : {RimDirection::kLateral, RimDirection::kRadial}) {
    const bool lateral = direction == RimDirection::kLateral;
    const auto& rows = lateral ? left.lateral_mm : left.radial_mm;
    const auto [least, most] = std::minmax_element(rows.begin(), rows.end());
    const double size = *most - *least;
    const double middle = (*most + *least) / 2;
    const double over = (size - 3 * outlook.run_out_uncertainty_mm(direction)) /
                        (lateral ? limits.lateral : limits.radial).in(mm);
    if (over <= most_over) continue;
    most_over = over;
    // Greatest and least are equally far from the middle; the place further from the mean is the
    // dent, the other its surroundings.
    const double mean = mean_of(rows);
    const auto place = *most - mean > mean - *least ? most : least;
    worst = BentRim{direction, outlook.place(static_cast<std::size_t>(place - rows.begin())),
                    size * mm, (*place - middle) * mm};
  }
  return worst;
}

/// Spokes whose tension is not known within a third of the allowed spread, least known first.
std::vector<int> least_known(const TruingState& state, const TruingLimits& limits) {
  const auto share = [&](int spoke) {
    return state.uncertainties[at(spoke)] / std::max(1.0 * newton, state.tensions[at(spoke)]);
  };
  std::vector<int> spokes;
  for (int i = 0; i < static_cast<int>(state.tensions.size()); ++i) {
    if (share(i) > limits.spread / 3) spokes.push_back(i);
  }
  std::stable_sort(spokes.begin(), spokes.end(), [&](int a, int b) { return share(a) > share(b); });
  return spokes;
}

TruingState with_odds(TruingState state, const Odds& odds) {
  state.true_enough = odds.true_enough;
  state.inside = odds.inside;
  return state;
}

struct Picked {
  TurnChoice choice;
  double excess = 0;  // expected, of the limits themselves
  double inside = 0;  // probability
  [[nodiscard]] double worth() const { return inside - kPrice * choice.count; }
};

bool preferred(const Picked& a, const Picked& b) {
  if (a.excess != b.excess) return a.excess < b.excess;
  return a.worth() > b.worth();
}

/// Of the few best choices those expected inside, and of these the likeliest for its quarters;
/// then quarters are changed one by one while that makes it likelier still.
std::vector<int> pick(const TruingOutlook& outlook, const TruingLimits& limits,
                      const TruingOdds& odds, bool dish_known) {
  constexpr std::size_t kCompared = 2;
  const TurnProblem plain = outlook.problem(limits, dish_known, {});
  std::optional<Picked> best;
  for (const Caution& caution : kCautions) {
    const TurnProblem problem = outlook.problem(limits, dish_known, caution);
    for (TurnChoice& choice : turn_choices(problem, kCompared)) {
      const double excess = excess_of(plain, as_numbers(choice.quarters));
      const double inside = odds.after(choice.quarters).inside;
      const Picked picked{std::move(choice), excess, inside};
      if (!best || preferred(picked, *best)) best = picked;
    }
  }
  const auto is_permitted = [&](const std::vector<int>& quarters) {
    return permitted(plain, quarters);
  };
  return odds.likelier(best->choice.quarters, {.most_quarters = limits.most_quarters,
                                               .price = kPrice,
                                               .rounds = kRounds,
                                               .permitted = is_permitted});
}

}  // namespace

Result<TruingWheel> TruingWheel::of(const RimSection& rim, const std::vector<WheelSpoke>& spokes,
                                    double least_elbow, double most_elbow) {
  if (auto error = first_outside({{"least elbow factor", least_elbow, 0.3, 1, ""},
                                  {"greatest elbow factor", most_elbow, 0.3, 1, ""}})) {
    return std::unexpected(*error);
  }
  if (least_elbow > most_elbow) {
    return refuse(Code::kContradiction, "The least elbow factor is above the greatest.",
                  {.field = "elbow factor"});
  }
  const auto left = std::count_if(spokes.begin(), spokes.end(), [](const WheelSpoke& spoke) {
    return spoke.end == WheelEnd::kLeft;
  });
  if (left == 0 || left == std::ssize(spokes)) {
    return refuse(Code::kContradiction,
                  "All spokes hang from one flange; nothing would draw the rim to the other side.",
                  {.field = "spokes"});
  }
  TruingWheel wheel;
  wheel.spokes_ = spokes;
  const int steps = static_cast<int>(std::ceil((most_elbow - least_elbow) / kElbowStep - 1e-9));
  for (int i = 0; i <= steps; ++i) {
    const double factor =
        steps == 0 ? most_elbow : least_elbow + (most_elbow - least_elbow) * i / steps;
    const auto model = WheelModel::of(rim, spokes, {.elbow_factor = factor});
    if (!model) return std::unexpected(model.error());
    wheel.members_.emplace_back(*model, factor);
  }
  return wheel;
}

Result<TruingAdvice> truing_advice(const TruingWheel& wheel, const TruingReadings& readings,
                                   const TruingLimits& limits) {
  if (auto error = limits_outside(limits)) return std::unexpected(*error);
  if (const auto fine = checked(readings, static_cast<int>(wheel.spokes().size())); !fine) {
    return std::unexpected(fine.error());
  }
  const auto beliefs = beliefs_of(wheel, readings);
  const auto outlooks = weighed(wheel, beliefs);
  const TruingOutlook& likeliest = outlooks.front().outlook;
  const std::vector<double>& mean = likeliest.belief().mean();

  TruingAdvice advice;
  for (const TruingPass& pass : readings.passes) advice.dish_known |= pass.dish.has_value();
  for (const WeighedOutlook& each : outlooks) {
    advice.elbow_factor += each.probability * each.outlook.belief().influence().elbow_factor();
  }
  const TruingOdds told(outlooks, limits, advice.dish_known, kToldBy);
  advice.now = with_odds(state_of(likeliest, mean), told.after({}));
  advice.after = advice.now;
  advice.read_next = least_known(advice.now, limits);
  if (advice.now.inside >= kSure) return advice;

  const TurnProblem plain = likeliest.problem(limits, advice.dish_known, {});
  // What is told was not chosen by the same draws: those would flatter it.
  const TruingOdds odds(outlooks, limits, advice.dish_known, kChosenBy);
  const auto picked = pick(likeliest, limits, odds, advice.dish_known);
  const Odds after = told.after(picked);
  const bool expected_inside = excess_of(plain, std::vector<double>(at(plain.spokes))) == 0;
  // What is unsure is not mended by turning.
  const bool gains = after.inside >= advice.now.inside + kWorthwhile;
  if (expected_inside && !gains) return advice;
  advice.turns = turns_of(picked);
  const auto quarters = as_numbers(picked);
  advice.after = with_odds(state_of(likeliest, turned(mean, quarters)), after);
  if (excess_of(plain, quarters) == 0) {
    advice.verdict = advice.turns.empty() ? TruingVerdict::kInside : TruingVerdict::kTurn;
    return advice;
  }
  advice.bent = bent_rim(likeliest, plain, limits);
  advice.verdict = advice.bent ? TruingVerdict::kRimBent : TruingVerdict::kApproach;
  return advice;
}

}  // namespace rollwright::mech
