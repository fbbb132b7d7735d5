#include "plan/shop_plan.hpp"

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "base/index.hpp"
#include "base/random.hpp"
#include "plan/finish_plan.hpp"
#include "plan/order_facts.hpp"
#include "plan/place_work.hpp"

namespace rollwright::plan {
namespace {

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
    add_chains(best, place(recipe), floor_);
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
    ShopPlan plan = plan_from(place(recipe), floor_, facts_);
    plan.best_rule = recipe.rule;
    return plan;
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

namespace {

/// Per task the minute for which the last plan has it. An order that it does not know is taken up
/// before all that are promised later; a task of a known order with what comes before it.
std::vector<double> turns_of(const PlanInput& input, const OrderFacts& facts,
                             const std::vector<int>& orders) {
  std::vector<double> turns(input.tasks.size(), kNever);
  double earliest_after = kNever;
  for (auto order = orders.rbegin(); order != orders.rend(); ++order) {
    const bool is_known = facts.previous[at(*order)] < kNever;
    double turn = is_known ? facts.previous[at(*order)] : earliest_after;
    for (const int task : facts.tasks[at(*order)]) {
      const auto& previous = input.tasks[at(task)].previous;
      turn = previous ? std::max<double>(turn, previous->start) : turn;
      turns[at(task)] = previous ? previous->start : turn;
    }
    earliest_after = std::min(earliest_after, facts.previous[at(*order)]);
  }
  return turns;
}

}  // namespace

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
  const std::vector<int> orders = by_promise(input, facts);
  const std::vector<double> turns = turns_of(input, facts, orders);
  const auto first_free = static_cast<long>(sequence.size());
  for (const int order : orders) {
    sequence.insert(sequence.end(), facts.tasks[at(order)].begin(), facts.tasks[at(order)].end());
  }
  std::ranges::stable_sort(sequence.begin() + first_free, sequence.end(), {},
                           [&](int task) { return turns[at(task)]; });
  return sequence;
}

int in_hand(const PlanInput& input, const Arrival& arrival, double p) {
  const double days = arrival.known ? 0 : days_at(arrival, p);
  return in_hand_after(input, arrival, days);
}

}  // namespace rollwright::plan
