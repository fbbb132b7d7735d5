#include "shop/stand_numbers.hpp"

#include <algorithm>

#include "base/index.hpp"

namespace rollwright::shop {
namespace {

using Spans = std::vector<plan::Window>;

bool is_free(const Spans& taken, const plan::Window& span) {
  return std::ranges::none_of(taken, [&](const plan::Window& other) {
    return other.from < span.to && span.from < other.to;
  });
}

}  // namespace

std::vector<int> stand_numbers(const plan::PlanInput& input, const plan::ShopPlan& plan,
                               const std::vector<StandWish>& wishes) {
  std::vector<int> tasks;
  for (const plan::PlannedTask& placed : plan.tasks) {
    if (placed.placed()) tasks.push_back(placed.task);
  }
  std::ranges::stable_sort(tasks, {}, [&](int task) {
    return std::pair(!wishes[at(task)].fixed, plan.tasks[at(task)].start());
  });
  std::vector<std::vector<Spans>> taken;  // by area, then stand
  for (const plan::Area& area : input.areas) taken.emplace_back(at(area.stands));
  std::vector<int> numbers(plan.tasks.size());
  for (const int task : tasks) {
    std::vector<Spans>& stands = taken[at(input.tasks[at(task)].area)];
    const plan::Window span{plan.tasks[at(task)].start(), plan.tasks[at(task)].end()};
    const int wished = wishes[at(task)].stand;
    std::size_t stand = stands.size();
    if (0 < wished && at(wished) <= stands.size() && is_free(stands[at(wished - 1)], span)) {
      stand = at(wished - 1);
    } else {
      const auto found =
          std::ranges::find_if(stands, [&](const Spans& spans) { return is_free(spans, span); });
      stand = static_cast<std::size_t>(found - stands.begin());
    }
    if (stand == stands.size()) continue;
    stands[stand].push_back(span);
    numbers[at(task)] = static_cast<int>(stand) + 1;
  }
  return numbers;
}

}  // namespace rollwright::shop
