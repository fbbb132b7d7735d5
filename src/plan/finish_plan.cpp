#include "plan/finish_plan.hpp"

#include <algorithm>
#include <bit>
#include <cmath>

#include "base/index.hpp"
#include "plan/calendar.hpp"

namespace rollwright::plan {
namespace {

constexpr int kMinutesPerWeek = 7 * kMinutesPerDay;

int days_late(const PlanInput& input, const Order& order, std::optional<int> ready) {
  if (!order.due) return 0;
  // Without room it counts as ready on the first day past the horizon: the least that is certain.
  const Day day = ready ? day_at(input.first_day, *ready)
                        : input.first_day + std::chrono::days(input.days);
  return std::max(0, static_cast<int>((day - *order.due).count()));
}

bool is_where_it_was(const Spot& spot, const Assignment& previous) {
  return spot.person == previous.person &&
         spot.start / kMinutesPerDay == previous.start / kMinutesPerDay;
}

}  // namespace

OrderOutcome outcome_of(const PlanInput& input, const std::vector<int>& open_tasks,
                        const Order& order, const std::vector<Spot>& spots) {
  OrderOutcome outcome{.open = !open_tasks.empty()};
  if (!outcome.open) return outcome;
  int ready = -1;
  bool all_placed = true;
  for (const int index : open_tasks) {
    const Task& task = input.tasks[at(index)];
    const Spot& spot = spots[at(index)];
    all_placed &= spot.person >= 0;
    ready = std::max(ready, spot.end + task.unattended);
    if (task.previous && !is_where_it_was(spot, *task.previous)) ++outcome.moved;
  }
  if (all_placed) outcome.ready = ready;
  outcome.days_late = days_late(input, order, outcome.ready);
  return outcome;
}

WeeklyLoad::WeeklyLoad(const Shopfloor& floor)
    : floor_(&floor), people_(floor.input.people.size()) {
  const int weeks = (floor.input.days + 6) / 7;
  at_work_.resize(at(weeks) * people_);
  given_.resize(at(weeks) * people_);
  for (std::size_t person = 0; person < people_; ++person) {
    for (const Window& window : floor.input.people[person].hours) {
      const int from = std::max(window.from, floor.input.now);
      if (from >= window.to) continue;
      at_work_[at(window.from / kMinutesPerWeek) * people_ + person] += window.to - from;
    }
  }
}

void WeeklyLoad::change(int task, const Spot& spot, int sign) {
  if (spot.person < 0) return;
  const int week = std::max(spot.start, floor_->input.now) / kMinutesPerWeek;
  int* const given = &given_[at(week) * people_];
  given[at(spot.person)] += sign * floor_->minutes[at(task) * people_ + at(spot.person)];
  for (std::uint64_t left = spot.lending; left != 0; left &= left - 1) {
    given[at(std::countr_zero(left))] += sign * (spot.end - spot.start);
  }
}

void WeeklyLoad::add(int task, const Spot& spot) { change(task, spot, 1); }

void WeeklyLoad::take_away(int task, const Spot& spot) { change(task, spot, -1); }

double WeeklyLoad::uneven_hours() const {
  double minutes = 0;
  for (std::size_t week = 0; week < given_.size(); week += people_) {
    int given = 0;
    int at_work = 0;
    for (std::size_t person = week; person < week + people_; ++person) {
      given += given_[person];
      at_work += at_work_[person];
    }
    if (given == 0) continue;
    const double share = at_work > 0 ? static_cast<double>(given) / at_work : 0;
    for (std::size_t person = week; person < week + people_; ++person) {
      minutes += std::abs(given_[person] - share * at_work_[person]);
    }
  }
  return minutes / 2 / 60;  // what one gives another takes
}

PlanScore score_of(const PlanInput& input, const OrderFacts& facts,
                   const std::vector<OrderOutcome>& outcomes, const WeeklyLoad& load) {
  PlanScore score;
  int last = input.now;
  for (std::size_t order = 0; order < outcomes.size(); ++order) {
    const OrderOutcome& outcome = outcomes[order];
    if (!outcome.open) continue;
    const int ready = outcome.ready.value_or(input.days * kMinutesPerDay);
    last = std::max(last, ready);
    score.weighted_days_late += input.orders[order].weight * outcome.days_late;
    score.moved += outcome.moved;
    score.kit_days_waiting += std::max(0.0, ready - facts.kit[order]) / kMinutesPerDay;
  }
  score.last_ready_days = static_cast<double>(last - input.now) / kMinutesPerDay;
  score.uneven_hours = load.uneven_hours();
  return score;
}

ShopPlan plan_from(const WorkPlacer& placer, const Shopfloor& floor, const OrderFacts& facts) {
  const PlanInput& input = floor.input;
  ShopPlan plan{.tasks = placer.placed()};
  WeeklyLoad load(floor);
  for (std::size_t task = 0; task < input.tasks.size(); ++task) {
    load.add(static_cast<int>(task), placer.spots()[task]);
  }
  std::vector<OrderOutcome> outcomes;
  for (std::size_t index = 0; index < input.orders.size(); ++index) {
    const OrderOutcome& outcome = outcomes.emplace_back(
        outcome_of(input, floor.of_order[index], input.orders[index], placer.spots()));
    PlannedOrder order{.order = static_cast<int>(index),
                       .ready = outcome.ready,
                       .days_late = outcome.days_late};
    if (order.ready) order.ready_day = day_at(input.first_day, *order.ready);
    plan.orders.push_back(std::move(order));
  }
  plan.score = score_of(input, facts, outcomes, load);
  return plan;
}

void add_chains(ShopPlan& plan, const WorkPlacer& placer, const Shopfloor& floor) {
  const std::vector<Ran> ran = placer.ran();
  for (PlannedOrder& order : plan.orders) {
    if (!order.ready) continue;
    critical_chain(floor.input, ran, floor.of_order[at(order.order)], order.bound_by);
  }
}

}  // namespace rollwright::plan
