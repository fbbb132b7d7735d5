#pragma once

#include <cstdint>
#include <functional>

#include "base/result.hpp"
#include "plan/shop_plan.hpp"
#include "plan/workshop.hpp"

namespace rollwright::plan {

/// What a plan is judged by when it is improved, as data: the owner may set other numbers. As they
/// stand they follow the order in which the shop thinks: promises, little change, kits that do not
/// wait, an early end, people busy evenly. Each from 0 to 1e9. Frozen work has no weight: it never
/// moves.
struct PlanWeights {
  double day_late = 100;   // of one promised order, times the weight of the order
  double moved = 5;        // a task with another person or day than in the last plan
  double kit_day = 1;      // a day that a complete kit waits until its bike is ready
  double last_day = 1;     // a day until everything is ready
  double uneven_hour = 0.1;  // an hour that would have to change hands for even weeks
};

/// The sum of what the score counts times its weights; less is better.
[[nodiscard]] double cost_of(const PlanScore& score, const PlanWeights& weights);

struct ImproveOptions {
  std::uint64_t seed = 1;
  std::int64_t placements = 2'000'000;  // tasks put down in all, 1 to 1e12; a little more is used,
                                        // for a step begun is ended
  int threads = 1;  // 1 to 64; more than two do not help. The plan is the same whatever the number
  double arrival_confidence = 0.8;
  PlanWeights weights;
};

/// How far the search is.
struct PlanProgress {
  std::int64_t placements = 0;
  double cost = 0;  // of the best plan so far
  PlanScore score;
};

/// Asked now and then, first as soon as there is a plan; false ends the search, and the best is
/// kept. Called on the thread that called `improve_plan`.
using PlanWatch = std::function<bool(const PlanProgress&)>;

struct ImprovedPlan {
  ShopPlan plan;
  double cost = 0;
  double first_cost = 0;  // of the plan it began with
  std::int64_t placements = 0;
  bool stopped = false;  // by the watch
};

/// A better and better plan, from a good one at once.
///
/// Method:  two searches go on side by side. They begin with the best of the six priority rules of
///          make_plan; where there is a last plan with that, mended: what can stay stays, the rest
///          goes into places left free (and the plan of a rule is kept until they have a better).
///          Orders are taken out (a few of about the same turn, a stretch of turns, or all from a
///          turn on; what has gained more lately is done more) and laid out again in another turn,
///          often with one sooner that is later than it must be. Where there is a last plan, an
///          order later than it must be is also given room by one order after another that has
///          time, and moved work is brought home beside what stands there now. One order goes where
///          it ends soonest, now and then held back; the others too, or near their old places where
///          there is a last plan. What is no worse is kept, and what is worse than the best plan by
///          less than a two-thousandth (a five-hundredth after a last plan) as well. At stated
///          counts of placements both go on from the better plan.
/// Source:  [plan-search] in docs/sources.md.
/// Exact:   every rule of PlanInput holds at every step. Not proven best.
/// Same:    input, seed and placements give the same plan for any number of threads. A watch that
///          ends the search after n placements gives the plan of that many.
/// Errors:  those of problems_of; kOutOfRange for options.
[[nodiscard]] Result<ImprovedPlan> improve_plan(const PlanInput& input,
                                                const ImproveOptions& options = {},
                                                const PlanWatch& watch = {});

}  // namespace rollwright::plan
