#include "plan/pin_task.hpp"

#include <algorithm>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "base/index.hpp"
#include "plan/calendar.hpp"
#include "plan/order_facts.hpp"
#include "plan/place_work.hpp"

namespace rollwright::plan {
namespace {

std::string when_words(const PlanInput& input, int minute) {
  return rollwright::in_words(day_at(input.first_day, minute)) + " at " + clock_words(minute);
}

/// Open tasks that come before, those that are not frozen, in an order that can be followed.
std::vector<int> open_before(const PlanInput& input, int task, double arrival_confidence) {
  std::vector<bool> before(input.tasks.size());
  std::vector<int> look = {task};
  while (!look.empty()) {
    const int next = look.back();
    look.pop_back();
    for (const int other : input.tasks[at(next)].after) {
      if (before[at(other)]) continue;
      before[at(other)] = true;
      look.push_back(other);
    }
  }
  const OrderFacts facts = facts_of(input, arrival_confidence);
  std::vector<int> found;
  for (const int other : facts.tasks[at(input.tasks[at(task)].order)]) {
    if (before[at(other)]) found.push_back(other);
  }
  return found;
}

/// Whether all of them end before the pin when put down so; the first that does not is named.
int first_too_late(const PlanInput& pinned, const std::vector<int>& before, int task,
                   const WorkPlacer& placer) {
  const Task& what = pinned.tasks[at(task)];
  for (const int other : before) {
    if (placer.spots()[at(other)].person < 0) return other;
  }
  for (const int other : what.after) {
    const Task& first = pinned.tasks[at(other)];
    const bool late = placer.spots()[at(other)].end + first.unattended > what.previous->start;
    if (!first.done && late) return other;
  }
  return -1;
}

Result<void> check_pin(const PlanInput& input, int task, const Assignment& where) {
  if (!(0 <= task && at(task) < input.tasks.size())) {
    return refuse(Code::kNotFound, "there is no such task in the workshop", {.field = "task"});
  }
  if (!(0 <= where.person && at(where.person) < input.people.size())) {
    return refuse(Code::kNotFound, "there is no such person in the workshop", {.field = "person"});
  }
  const Task& what = input.tasks[at(task)];
  if (!is_open(input, what)) {
    return refuse(Code::kRefused, fmt::format("{} is done or not released", what.id));
  }
  if (where.start >= input.now) return {};
  return refuse(Code::kRefused, fmt::format("{} cannot be pinned to {}, which is past", what.id,
                                            when_words(input, where.start)));
}

/// The pin alone must stand: its person is there, able and free of frozen work. What comes before it
/// and second persons, which may come after it by way of that, are looked at once all is pinned.
Problems problems_of_pin(PlanInput pinned, int task) {
  pinned.tasks[at(task)].after.clear();
  for (Task& other : pinned.tasks) other.not_by_doer_of.clear();
  return problems_of(pinned);
}

/// With those who lend a hand; refused when not so many are there.
Result<Assignment> with_hands(const PlanInput& input, const ShopPlan& plan, int task,
                              const Assignment& where, double arrival_confidence) {
  const Task& what = input.tasks[at(task)];
  Assignment found{where.person, where.start};
  if (what.hands == 1) return found;
  found.lending = hands_for(input, plan, task, where, arrival_confidence);
  if (found.lending != 0) return found;
  // What is wrong with the pin of the one who does it is said first.
  PlanInput alone = input;
  alone.tasks[at(task)].hands = 1;
  alone.tasks[at(task)].previous = found;
  alone.tasks[at(task)].pinned = true;
  if (Problems problems = problems_of_pin(alone, task); !problems.empty()) {
    return std::unexpected(std::move(problems.front()));
  }
  return refuse(Code::kRefused,
                fmt::format("{} takes {} people at once, and on {} not so many are there all through "
                            "it and free of work that does not move",
                            what.id, what.hands, when_words(input, where.start)),
                {.field = "start"});
}

int moved_from_last_plan(const PlanInput& input, const ShopPlan& plan) {
  int moved = 0;
  for (const PlannedTask& placed : plan.tasks) {
    const Task& task = input.tasks[at(placed.task)];
    if (!task.previous || !is_open(input, task)) continue;
    const bool same = placed.placed() && placed.person == task.previous->person &&
                      placed.start() / kMinutesPerDay == task.previous->start / kMinutesPerDay;
    if (!same) ++moved;
  }
  return moved;
}

}  // namespace

std::uint64_t hands_for(const PlanInput& input, const ShopPlan& plan, int task,
                        const Assignment& where, double arrival_confidence) {
  const Shopfloor floor(input, arrival_confidence);
  WorkPlacer frozen(floor, 0);
  frozen.take_out(task);
  if (where.lending != 0 && has_its_hands(input.tasks[at(task)], where)) {
    if (const std::uint64_t named = frozen.hands_at(task, where); named != 0) return named;
  }
  WorkPlacer planned = frozen;
  std::vector<const PlannedTask*> by_start;
  for (const PlannedTask& placed : plan.tasks) {
    if (placed.placed() && placed.task != task) by_start.push_back(&placed);
  }
  std::ranges::stable_sort(by_start, {}, &PlannedTask::start);
  for (const PlannedTask* placed : by_start) planned.put_at(placed->task, placed->where());
  const Assignment anybody{where.person, where.start};
  const std::uint64_t idle = planned.hands_at(task, anybody);
  return idle != 0 ? idle : frozen.hands_at(task, anybody);
}

Result<PlanInput> pinned_by_hand(const PlanInput& input, const ShopPlan& plan, int task,
                                 const Assignment& where, double arrival_confidence) {
  if (Problems problems = problems_of(input); !problems.empty()) {
    return std::unexpected(std::move(problems.front()));
  }
  if (const auto checked = check_pin(input, task, where); !checked) {
    return std::unexpected(checked.error());
  }
  PlanInput pinned = input;
  const std::vector<int> before = open_before(input, task, arrival_confidence);
  const auto placed_at = with_hands(input, plan, task, where, arrival_confidence);
  if (!placed_at) return std::unexpected(placed_at.error());
  pinned.tasks[at(task)].previous = *placed_at;
  pinned.tasks[at(task)].pinned = true;
  if (Problems problems = problems_of_pin(pinned, task); !problems.empty()) {
    return std::unexpected(std::move(problems.front()));
  }
  int too_late = -1;
  std::string soonest;
  for (const bool where_planned : {true, false}) {
    PlanInput mended = pinned;
    for (const int other : before) {
      const PlannedTask& placed = plan.tasks[at(other)];
      mended.tasks[at(other)].previous.reset();
      if (where_planned && placed.placed() && placed.end() <= where.start) {
        mended.tasks[at(other)].previous = placed.where();
      }
    }
    const Shopfloor floor(mended, arrival_confidence);
    WorkPlacer placer(floor, 0);
    for (const int other : before) {
      if (!placer.put_as_before(other)) placer.put(other);
    }
    too_late = first_too_late(mended, before, task, placer);
    if (too_late >= 0) {
      const Spot& spot = placer.spots()[at(too_late)];
      soonest = spot.person < 0 ? "finds no room before the end of the plan"
                                : "cannot be over before " +
                                      when_words(input, spot.end + input.tasks[at(too_late)].unattended);
      continue;
    }
    for (const int other : before) {
      pinned.tasks[at(other)].previous = placer.spots()[at(other)].where();
      pinned.tasks[at(other)].pinned = true;
    }
    if (Problems problems = problems_of(pinned); !problems.empty()) {
      return std::unexpected(std::move(problems.front()));
    }
    return pinned;
  }
  return refuse(Code::kRefused,
                fmt::format("{} cannot begin on {}: {}, which comes before it, {}",
                            input.tasks[at(task)].id, when_words(input, where.start),
                            input.tasks[at(too_late)].id, soonest),
                {.field = "start"});
}

Result<PinPrice> price_of_pin(const PlanInput& input, int task, const Assignment& where,
                              const ImproveOptions& options) {
  auto without = improve_plan(input, options);
  if (!without) return std::unexpected(without.error());
  const auto pinned =
      pinned_by_hand(input, without->plan, task, where, options.arrival_confidence);
  if (!pinned) return std::unexpected(pinned.error());
  auto with = improve_plan(*pinned, options);
  if (!with) return std::unexpected(with.error());
  with->plan.score.moved = moved_from_last_plan(input, with->plan);
  with->cost = cost_of(with->plan.score, options.weights);
  PinPrice price{.without = std::move(*without), .with = std::move(*with)};
  price.cost = price.with.cost - price.without.cost;
  return price;
}

}  // namespace rollwright::plan
