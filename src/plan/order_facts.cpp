#include "plan/order_facts.hpp"

#include <algorithm>
#include <numeric>
#include <utility>

#include "base/index.hpp"
#include "plan/calendar.hpp"
#include "plan/shop_plan.hpp"

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

}  // namespace

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

std::vector<int> by_promise(const PlanInput& input, const OrderFacts& facts) {
  // Among orders due the same day the heavier goes first; among unpromised, the one whose parts
  // are complete first.
  return sorted_orders(
      input.orders.size(), [&](std::size_t order) { return facts.due[order]; },
      [&](std::size_t order) {
        return facts.due[order] < kNever ? -input.orders[order].weight : facts.kit[order];
      });
}

const std::array<Rule, kRules> kRuleTable = {{
    {"promised day first", by_promise},
    {"least slack first", by_slack},
    {"heaviest promise first", by_weight},
    {"complete parts first", by_kit},
    {"as in the last plan", by_last_plan},
    {"least work first", by_least_work},
}};

}  // namespace rollwright::plan
