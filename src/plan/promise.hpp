#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "base/result.hpp"
#include "plan/workshop.hpp"

/// On what day will this bike be ready, how surely, and what holds it?
namespace rollwright::plan {

struct PromiseOptions {
  int draws = 2000;        // 1 to 1 000 000
  std::uint64_t seed = 1;  // the same seed gives the same draws to every alternative
  int threads = 1;         // 1 to 64; the answer is the same, byte for byte, whatever the number
};

struct CurvePoint {
  Day day;
  double probability = 0;  // ready on that day or before
};

/// One thing that holds the bike. In each draw the critical chain is walked back from the last
/// task to now; what adds the most time on it holds the bike in that draw.
struct Holder {
  Hold hold;            // its minutes: mean over all draws of what it adds on the critical chain
  int draws = 0;        // in how many it is the one that holds the bike
  int draws_on_chain = 0;  // in how many it adds anything
};

struct Promise {
  int order = 0;
  /// Least day by which at least that share of the draws is ready; none past the horizon.
  std::optional<Day> day_50;
  std::optional<Day> day_80;
  std::optional<Day> day_90;
  std::optional<Day> day_95;
  std::vector<CurvePoint> curve;   // each day on which a draw is ready, ascending
  std::vector<Holder> held_by;     // most draws first
  std::vector<int> ready_minutes;  // per draw, in draw order; -1 past the horizon
  int past_horizon = 0;            // draws in which it was not ready within the horizon
  std::int64_t placements = 0;     // tasks placed over all draws, all orders
};

/// The curve of one order, with all open work of the shop competing.
///
/// Method:  each draw samples arrivals, hands-on minutes, sick days and walk-in shares, then runs
///          the shop: whenever somebody is free, the first task in take_up_order that can start
///          there and then goes to the free person with the fewest skills among those who end it
///          within two hours of the soonest. Ready minutes of all draws give the curve.
/// Differs from make_plan: the same rules, calendars and priorities, but work is dispatched as time
///          goes on, as a shop does, without looking ahead; a plan may put a task into a gap that
///          dispatch has passed, may wait for a better placed person, and searches over several
///          priority rules. Frozen tasks go first for their person from their start on, but start
///          late when what is before them runs over.
/// Random:  each item (arrival, task, person and day) has its own numbers, named by its id, in each
///          draw, so that two alternatives differ only where they differ.
/// Cut:     work that must not lie over a pause is drawn no longer than one go of somebody able.
/// Late:    arrivals of one supplier share one normal factor in each draw (Gaussian copula), as much
///          as the input says they are late together.
/// Ignores: rework; that several suppliers may be late together.
/// Anomaly: with many orders an earlier arrival can make another bike later (and even, through the
///          queue, its own): Graham's anomaly of list scheduling. A single chain of tasks with
///          one person for each task is free of it.
/// Accuracy: with n draws a probability p is known to sqrt(p(1-p)/n): 0.7 % at 90 %, 2000 draws.
/// Errors:  those of problems_of; kNotFound for an order index; kOutOfRange for options;
///          kRefused for an order that is not released or has no task.
[[nodiscard]] Result<Promise> promise(const PlanInput& input, int order,
                                      const PromiseOptions& options = {});

/// The same for several orders from one simulation, which costs hardly more than one.
[[nodiscard]] Result<std::vector<Promise>> promises(const PlanInput& input,
                                                    const std::vector<int>& orders,
                                                    const PromiseOptions& options = {});

/// Share of the draws that are ready on that day or before.
[[nodiscard]] double chance_by(const Promise& promise, Day day);

/// The first day by which at least that share of the draws is ready; none past the horizon.
[[nodiscard]] std::optional<Day> day_with(const Promise& promise, double chance);

/// Sets the days of 50, 80, 90 and 95 in 100 from the curve.
void set_days(Promise& promise);

/// What an alternative buys: the input changed (another supplier, one more pair of hands, another
/// priority), the same seed and draws. Draw by draw, so that luck cancels.
struct Gain {
  std::optional<int> days_50;  // positive: the alternative is sooner; none when either has no day
  std::optional<int> days_80;
  std::optional<int> days_90;
  std::optional<int> days_95;
  double mean_days = 0;         // over draws ready within the horizon in both
  double share_sooner = 0;      // of draws in which its day is sooner
  double share_later = 0;
};

/// Errors: kContradiction when the two were not drawn with the same number of draws.
[[nodiscard]] Result<Gain> gain(const Promise& as_is, const Promise& alternative);

}  // namespace rollwright::plan
