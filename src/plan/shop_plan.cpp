#include "plan/shop_plan.hpp"

#include <algorithm>
#include <array>
#include <numeric>

#include <fmt/format.h>

#include "base/index.hpp"
#include "base/random.hpp"
#include "plan/calendar.hpp"
#include "plan/place_work.hpp"

namespace rollwright::plan {
namespace {

/// Minutes from the start of each task to the end of the longest chain behind it.
std::vector<double> chains_behind(const PlanInput& input) {
  std::vector<std::vector<int>> next(input.tasks.size());
  std::vector<int> open_behind(input.tasks.size());
  for (std::size_t index = 0; index < input.tasks.size(); ++index) {
    for (const int before : input.tasks[index].after) {
      next[at(before)].push_back(static_cast<int>(index));
      ++open_behind[at(before)];
    }
  }
  std::vector<double> chain(input.tasks.size());
  std::vector<int> clear;
  for (std::size_t index = 0; index < open_behind.size(); ++index) {
    if (open_behind[index] == 0) clear.push_back(static_cast<int>(index));
  }
  for (std::size_t seen = 0; seen < clear.size(); ++seen) {
    const int task = clear[seen];
    double behind = 0;
    for (const int after : next[at(task)]) behind = std::max(behind, chain[at(after)]);
    chain[at(task)] = behind + input.tasks[at(task)].minutes + input.tasks[at(task)].unattended;
    for (const int before : input.tasks[at(task)].after) {
      if (--open_behind[at(before)] == 0) clear.push_back(before);
    }
  }
  return chain;
}

/// What the priority rules look at, per order.
struct OrderFacts {
  std::vector<std::vector<int>> tasks;  // open, not frozen, longest chain first
  std::vector<double> due;              // minute; kNever when nothing was promised
  std::vector<double> kit;              // minute from which all parts are in hand
  std::vector<double> work;             // hands-on minutes left
  std::vector<double> chain;            // longest chain left
  std::vector<double> previous;         // earliest start in the last plan
};

OrderFacts facts_of(const PlanInput& input, double arrival_quantile) {
  const std::size_t count = input.orders.size();
  OrderFacts facts{.tasks = std::vector<std::vector<int>>(count),
                   .due = std::vector<double>(count, kNever),
                   .kit = std::vector<double>(count, input.now),
                   .work = std::vector<double>(count),
                   .chain = std::vector<double>(count),
                   .previous = std::vector<double>(count, kNever)};
  const std::vector<double> behind = chains_behind(input);
  std::vector<int> arrives;
  for (const Arrival& arrival : input.arrivals) {
    arrives.push_back(in_hand(input, arrival, arrival_quantile));
  }
  for (std::size_t index = 0; index < input.tasks.size(); ++index) {
    const Task& task = input.tasks[index];
    const std::size_t order = at(task.order);
    if (!is_open(input, task)) continue;
    for (const int part : task.parts) {
      facts.kit[order] = std::max<double>(facts.kit[order], arrives[at(part)]);
    }
    facts.work[order] += task.minutes;
    facts.chain[order] = std::max(facts.chain[order], behind[index]);
    if (task.previous) {
      facts.previous[order] = std::min<double>(facts.previous[order], task.previous->start);
    }
    if (!is_frozen(input, task)) facts.tasks[order].push_back(static_cast<int>(index));
  }
  for (std::size_t order = 0; order < count; ++order) {
    if (input.orders[order].due) {
      facts.due[order] = minute_at(input.first_day, *input.orders[order].due) + kMinutesPerDay;
    }
    std::ranges::stable_sort(facts.tasks[order], std::ranges::greater{},
                             [&](int task) { return behind[at(task)]; });
  }
  return facts;
}

/// Order indices sorted by two keys, then by index.
template <class First, class Second>
std::vector<int> sorted_orders(std::size_t count, const First& first, const Second& second) {
  std::vector<int> orders(count);
  std::iota(orders.begin(), orders.end(), 0);
  std::ranges::stable_sort(orders, [&](int a, int b) {
    return std::pair(first(at(a)), second(at(a))) < std::pair(first(at(b)), second(at(b)));
  });
  return orders;
}

struct Rule {
  std::string_view words;
  std::vector<int> (*sequence)(const PlanInput&, const OrderFacts&);
};

constexpr std::size_t kRules = 6;

std::vector<int> by_promise(const PlanInput& input, const OrderFacts& facts) {
  // Among orders due the same day the heavier goes first; among unpromised, the one whose parts
  // are complete first.
  return sorted_orders(
      input.orders.size(), [&](std::size_t order) { return facts.due[order]; },
      [&](std::size_t order) {
        return facts.due[order] < kNever ? -input.orders[order].weight : facts.kit[order];
      });
}

std::vector<int> by_slack(const PlanInput& input, const OrderFacts& facts) {
  return sorted_orders(
      input.orders.size(),
      [&](std::size_t order) { return facts.due[order] - facts.chain[order]; },
      [&](std::size_t order) { return facts.kit[order]; });
}

std::vector<int> by_weight(const PlanInput& input, const OrderFacts& facts) {
  return sorted_orders(
      input.orders.size(),
      [&](std::size_t order) {
        return (facts.due[order] - input.now) / input.orders[order].weight;
      },
      [&](std::size_t order) { return facts.kit[order]; });
}

std::vector<int> by_kit(const PlanInput& input, const OrderFacts& facts) {
  return sorted_orders(
      input.orders.size(), [&](std::size_t order) { return facts.kit[order]; },
      [&](std::size_t order) { return facts.due[order]; });
}

std::vector<int> by_last_plan(const PlanInput& input, const OrderFacts& facts) {
  return sorted_orders(
      input.orders.size(), [&](std::size_t order) { return facts.previous[order]; },
      [&](std::size_t order) { return facts.due[order]; });
}

std::vector<int> by_least_work(const PlanInput& input, const OrderFacts& facts) {
  return sorted_orders(
      input.orders.size(), [&](std::size_t order) { return facts.work[order]; },
      [&](std::size_t order) { return facts.due[order]; });
}

constexpr std::array<Rule, kRules> kRuleTable = {{
    {"promised day first", by_promise},
    {"least slack first", by_slack},
    {"heaviest promise first", by_weight},
    {"complete parts first", by_kit},
    {"as in the last plan", by_last_plan},
    {"least work first", by_least_work},
}};

/// A way to make a plan: the orders in turn, and how long to wait for a person of fewer skills.
struct Recipe {
  std::vector<int> orders;
  int patience = 120;
  std::string_view rule;
};

class Planner {
 public:
  Planner(const PlanInput& input, const PlanOptions& options)
      : input_(input),
        floor_(input, options.arrival_confidence),
        facts_(facts_of(input, options.arrival_confidence)),
        random_(options.seed) {}

  ShopPlan run(int rounds) {
    ShopPlan best;
    Recipe recipe;
    for (int round = 0; round < rounds; ++round) {
      const Recipe tried = round < static_cast<int>(kRules)
                               ? from_rule(kRuleTable[static_cast<std::size_t>(round)])
                               : perturbed(recipe, best);
      ShopPlan plan = make(tried);
      if (round > 0 && !(plan.score < best.score)) continue;
      best = std::move(plan);
      recipe = tried;
    }
    best.rounds = rounds;
    add_chains(best, recipe);
    return best;
  }

 private:
  Recipe from_rule(const Rule& rule) const {
    return {.orders = rule.sequence(input_, facts_), .rule = rule.words};
  }

  /// Moves one order, half of the time a late one, to an earlier or any other turn.
  Recipe perturbed(const Recipe& from, const ShopPlan& best) {
    Recipe recipe = from;
    const std::size_t count = recipe.orders.size();
    if (count == 0) return recipe;
    std::size_t moved = random_.below(count);
    std::vector<std::size_t> late;
    for (std::size_t turn = 0; turn < count; ++turn) {
      if (best.orders[at(recipe.orders[turn])].days_late > 0) late.push_back(turn);
    }
    const bool help_late = !late.empty() && random_.below(2) == 0;
    if (help_late) moved = late[random_.below(late.size())];
    const std::size_t to = random_.below(help_late ? moved + 1 : count);
    const int order = recipe.orders[moved];
    recipe.orders.erase(recipe.orders.begin() + static_cast<long>(moved));
    recipe.orders.insert(recipe.orders.begin() + static_cast<long>(to), order);
    if (random_.below(4) == 0) {
      constexpr std::array<int, 4> kPatience = {0, 60, 120, 480};
      recipe.patience = kPatience[random_.below(kPatience.size())];
    }
    return recipe;
  }

  WorkPlacer place(const Recipe& recipe) const {
    WorkPlacer placer(floor_, recipe.patience);
    for (const int order : recipe.orders) {
      for (const int task : facts_.tasks[at(order)]) placer.put(task);
    }
    return placer;
  }

  ShopPlan make(const Recipe& recipe) const {
    ShopPlan plan;
    plan.tasks = place(recipe).placed();
    plan.best_rule = recipe.rule;
    for (std::size_t order = 0; order < input_.orders.size(); ++order) {
      plan.orders.push_back({.order = static_cast<int>(order)});
    }
    finish_orders(plan);
    add_score(plan);
    return plan;
  }

  void finish_orders(ShopPlan& plan) const {
    std::vector<int> ready(input_.orders.size(), -1);
    std::vector<bool> short_of_room(input_.orders.size());
    for (const PlannedTask& placed : plan.tasks) {
      const Task& task = input_.tasks[at(placed.task)];
      if (!is_open(input_, task)) continue;
      if (!placed.placed()) {
        short_of_room[at(task.order)] = true;
        continue;
      }
      ready[at(task.order)] = std::max(ready[at(task.order)], placed.end() + task.unattended);
    }
    for (PlannedOrder& order : plan.orders) {
      const auto& due = input_.orders[at(order.order)].due;
      Day day = input_.first_day + std::chrono::days(input_.days);
      if (short_of_room[at(order.order)]) {
        // It counts as ready on the first day past the horizon: the least that is certain.
      } else if (ready[at(order.order)] >= 0) {
        order.ready = ready[at(order.order)];
        order.ready_day = day = day_at(input_.first_day, *order.ready);
      } else {
        continue;
      }
      if (due && *due < day) order.days_late = static_cast<int>((day - *due).count());
    }
  }

  void add_score(ShopPlan& plan) const {
    PlanScore& score = plan.score;
    const int horizon = input_.days * kMinutesPerDay;
    int last = input_.now;
    for (const PlannedOrder& order : plan.orders) {
      const std::size_t index = at(order.order);
      if (facts_.work[index] <= 0) continue;  // nothing open
      const int ready = order.ready.value_or(horizon);
      last = std::max(last, ready);
      score.weighted_days_late += input_.orders[index].weight * order.days_late;
      score.kit_days_waiting += std::max(0.0, ready - facts_.kit[index]) / kMinutesPerDay;
    }
    score.last_ready_days = static_cast<double>(last - input_.now) / kMinutesPerDay;
    for (const PlannedTask& placed : plan.tasks) {
      const Task& task = input_.tasks[at(placed.task)];
      if (!task.previous || !is_open(input_, task)) continue;
      const bool same = placed.placed() && placed.person == task.previous->person &&
                        placed.start() / kMinutesPerDay == task.previous->start / kMinutesPerDay;
      if (!same) ++score.moved;
    }
  }

  void add_chains(ShopPlan& plan, const Recipe& recipe) const {
    const std::vector<Ran> ran = place(recipe).ran();
    std::vector<std::vector<int>> open(input_.orders.size());
    for (std::size_t index = 0; index < input_.tasks.size(); ++index) {
      const Task& task = input_.tasks[index];
      if (is_open(input_, task)) open[at(task.order)].push_back(static_cast<int>(index));
    }
    for (PlannedOrder& order : plan.orders) {
      if (order.ready) critical_chain(input_, ran, open[at(order.order)], order.bound_by);
    }
  }

  const PlanInput& input_;
  Shopfloor floor_;
  OrderFacts facts_;
  Random random_;
};

}  // namespace

Result<ShopPlan> make_plan(const PlanInput& input, const PlanOptions& options) {
  if (!(1 <= options.rounds && options.rounds <= 10000)) {
    return refuse(Code::kOutOfRange, "rounds are 1 to 10000",
                  {.field = "rounds", .value = fmt::to_string(options.rounds)});
  }
  if (!(0 < options.arrival_confidence && options.arrival_confidence < 1)) {
    return refuse(Code::kOutOfRange, "a confidence lies between 0 and 1",
                  {.field = "arrival_confidence",
                   .value = fmt::to_string(options.arrival_confidence)});
  }
  Problems problems = problems_of(input);
  if (!problems.empty()) return std::unexpected(std::move(problems.front()));
  return Planner(input, options).run(options.rounds);
}

std::vector<int> take_up_order(const PlanInput& input) {
  std::vector<int> sequence;
  for (std::size_t index = 0; index < input.tasks.size(); ++index) {
    const Task& task = input.tasks[index];
    if (is_open(input, task) && is_frozen(input, task)) sequence.push_back(static_cast<int>(index));
  }
  std::ranges::stable_sort(sequence, {}, [&](int task) {
    return input.tasks[at(task)].previous->start;
  });
  const OrderFacts facts = facts_of(input, 0.5);
  for (const int order : by_promise(input, facts)) {
    sequence.insert(sequence.end(), facts.tasks[at(order)].begin(), facts.tasks[at(order)].end());
  }
  return sequence;
}

int in_hand(const PlanInput& input, const Arrival& arrival, double p) {
  const double days = arrival.known ? 0 : trade::quantile(arrival.working_days, p);
  return in_hand_after(input, arrival, days);
}

}  // namespace rollwright::plan
