#include "plan/plan_changes.hpp"

#include <algorithm>
#include <bit>
#include <utility>

#include <fmt/format.h>

#include "base/index.hpp"
#include "plan/calendar.hpp"
#include "plan/place_work.hpp"

namespace rollwright::plan {
namespace {

/// Looks for what keeps tasks from where they were.
class ChangeSearch {
 public:
  ChangeSearch(const PlanInput& input, const ShopPlan& plan, double arrival_confidence)
      : input_(input), plan_(plan), floor_(input, arrival_confidence) {
    of_person_.resize(input.people.size());
    of_area_.resize(input.areas.size());
    for (const PlannedTask& placed : plan.tasks) {
      if (!placed.placed()) continue;
      for (std::uint64_t left = placed.people(); left != 0; left &= left - 1) {
        of_person_[at(std::countr_zero(left))].push_back(placed.task);
      }
      of_area_[at(task_at(placed.task).area)].push_back(placed.task);
    }
  }

  std::vector<TaskChange> run() const {
    std::vector<TaskChange> changes;
    for (const PlannedTask& placed : plan_.tasks) {
      if (!has_moved(placed.task)) continue;
      TaskChange change{.task = placed.task, .was = *task_at(placed.task).previous};
      if (placed.placed()) change.is = placed.where();
      change.because = chain_of(placed.task);
      changes.push_back(std::move(change));
    }
    std::ranges::stable_sort(changes, {}, [](const TaskChange& change) {
      return change.was.start;
    });
    return changes;
  }

  std::vector<HandsChange> hands() const {
    std::vector<HandsChange> changes;
    for (const PlannedTask& placed : plan_.tasks) {
      const Task& task = task_at(placed.task);
      const bool stays = placed.placed() && task.previous && !has_moved(placed.task);
      if (!stays || task.hands == 1 || placed.lending == task.previous->lending) continue;
      changes.push_back({placed.task, task.previous->lending, placed.lending});
    }
    return changes;
  }

  bool has_moved(int index) const {
    const Task& task = task_at(index);
    if (!task.previous || !is_open(input_, task)) return false;
    const PlannedTask& placed = plan_.tasks[at(index)];
    return !placed.placed() || placed.person != task.previous->person ||
           placed.start() / kMinutesPerDay != task.previous->start / kMinutesPerDay;
  }

 private:
  const Task& task_at(int index) const { return input_.tasks[at(index)]; }

  std::vector<Cause> chain_of(int task) const {
    std::vector<Cause> chain;
    std::vector<int> seen = {task};
    while (true) {
      chain.push_back(cause_of(task));
      const Cause& last = chain.back();
      if (!names_task(last.kind)) return chain;
      task = last.by;
      if (!task_at(task).previous) {
        chain.push_back({CauseKind::kNewWork, task_at(task).order});
        return chain;
      }
      if (std::ranges::find(seen, task) != seen.end() || !is_elsewhere(task)) return chain;
      seen.push_back(task);
    }
  }

  static bool names_task(CauseKind kind) {
    return kind == CauseKind::kBefore || kind == CauseKind::kPersonTaken ||
           kind == CauseKind::kStandTaken || kind == CauseKind::kBikeTaken ||
           kind == CauseKind::kLendingTaken || kind == CauseKind::kSecondPerson;
  }

  /// Even by a minute: a task that keeps its day may still be in the way.
  bool is_elsewhere(int index) const {
    const Task& task = task_at(index);
    const PlannedTask& placed = plan_.tasks[at(index)];
    return !placed.placed() || placed.start() != task.previous->start ||
           placed.people() != people_at(task, *task.previous);
  }

  Cause cause_of(int index) const {
    const Task& task = task_at(index);
    const Assignment& was = *task.previous;
    if (floor_.parts_in_hand[at(index)] > std::max(was.start, input_.now)) {
      return {CauseKind::kArrival, floor_.last_part[at(index)]};
    }
    const PersonHours& hours = floor_.hours[at(was.person)];
    const int minutes = floor_.minutes[at(index) * input_.people.size() + at(was.person)];
    const auto stay = hours.earliest(was.start, minutes, pause_of(task));
    const bool able = (floor_.able[at(index)] >> was.person & 1) != 0;
    if (!able || stay.start != was.start) return {CauseKind::kAbsent, was.person};
    const Window span{stay.start, stay.end};
    if (const int absent = first_absent(task, span); absent >= 0) {
      return {CauseKind::kAbsent, absent};
    }
    if (was.start < input_.now) return {CauseKind::kOverdue, -1};
    if (!has_its_hands(task, was)) return {CauseKind::kLendingShort, -1};
    for (const int before : task.after) {
      if (ends_after(before, was.start)) return {CauseKind::kBefore, before};
    }
    return in_the_way(index, span);
  }

  /// Of those who were to lend a hand, who is not there all through the span; -1 when all are.
  int first_absent(const Task& task, const Window& span) const {
    std::uint64_t left = people_at(task, *task.previous) & ~person_bit(task.previous->person);
    for (; left != 0; left &= left - 1) {
      const int person = std::countr_zero(left);
      const auto there = floor_.hours[at(person)].earliest(span.from, span.to - span.from,
                                                           Pause::kNever);
      if ((floor_.lending & person_bit(person)) == 0 || there.start != span.from) return person;
    }
    return -1;
  }

  bool ends_after(int before, int minute) const {
    if (task_at(before).done) return false;
    const PlannedTask& placed = plan_.tasks[at(before)];
    return !placed.placed() || placed.end() + task_at(before).unattended > minute;
  }

  Cause in_the_way(int index, const Window& span) const {
    const Task& task = task_at(index);
    if (const int other = first_within(of_person_[at(task.previous->person)], index, span);
        other >= 0) {
      return {CauseKind::kPersonTaken, other};
    }
    if (const int other = stand_taker(index, span); other >= 0) {
      return {CauseKind::kStandTaken, other};
    }
    for (const int other : floor_.of_order[at(task.order)]) {
      const bool both = task.on_bike && task_at(other).on_bike;
      if (other != index && both && overlaps(other, span)) return {CauseKind::kBikeTaken, other};
    }
    std::uint64_t lending =
        people_at(task, *task.previous) & ~person_bit(task.previous->person);
    for (; lending != 0; lending &= lending - 1) {
      const int other = first_within(of_person_[at(std::countr_zero(lending))], index, span);
      if (other >= 0) return {CauseKind::kLendingTaken, other};
    }
    for (const int other : task.not_by_doer_of) {
      if ((plan_.tasks[at(other)].people() & person_bit(task.previous->person)) != 0) {
        return {CauseKind::kSecondPerson, other};
      }
    }
    return {};
  }

  bool overlaps(int other, const Window& span) const {
    const PlannedTask& placed = plan_.tasks[at(other)];
    return placed.placed() && placed.start() < span.to && span.from < placed.end();
  }

  /// Rather one that was not there in the last plan.
  int first_within(const std::vector<int>& tasks, int self, const Window& span) const {
    int found = -1;
    for (const int other : tasks) {
      if (other == self || !overlaps(other, span)) continue;
      const bool is_new = !task_at(other).previous || is_elsewhere(other);
      if (is_new) return other;
      found = other;
    }
    return found;
  }

  /// -1 when a stand is free all through the span.
  int stand_taker(int self, const Window& span) const {
    const Task& task = task_at(self);
    StandsTaken taken(input_.areas[at(task.area)].stands, input_.days);
    for (const int other : of_area_[at(task.area)]) {
      if (other != self && overlaps(other, span)) {
        taken.take({plan_.tasks[at(other)].start(), plan_.tasks[at(other)].end()});
      }
    }
    return taken.clash(span) >= 0 ? first_within(of_area_[at(task.area)], self, span) : -1;
  }

  const PlanInput& input_;
  const ShopPlan& plan_;
  Shopfloor floor_;
  std::vector<std::vector<int>> of_person_;
  std::vector<std::vector<int>> of_area_;
};

std::optional<PromiseAtRisk> risk_of(const PlanInput& input, const PlannedOrder& order,
                                     int days_to_spare) {
  const auto& due = input.orders[at(order.order)].due;
  const bool open = order.ready.has_value() || order.days_late > 0;
  if (!due || !open) return {};
  PromiseAtRisk risk{.order = order.order, .days_late = order.days_late};
  risk.days_left = order.ready_day ? static_cast<int>((*due - *order.ready_day).count())
                                   : -order.days_late;
  if (risk.days_left >= days_to_spare) return {};
  const auto most = std::ranges::max_element(order.bound_by, {}, &Hold::minutes);
  if (most != order.bound_by.end()) risk.held_by = *most;
  return risk;
}

}  // namespace

PlanChanges what_changed(const PlanInput& input, const ShopPlan& plan, int days_to_spare,
                         double arrival_confidence) {
  const ChangeSearch search(input, plan, arrival_confidence);
  PlanChanges changes{.tasks = search.run(), .hands = search.hands(), .at_risk = {}};
  for (const PlannedOrder& order : plan.orders) {
    auto risk = risk_of(input, order, days_to_spare);
    if (!risk) continue;
    risk->changed_tasks = static_cast<int>(
        std::ranges::count_if(changes.tasks, [&](const TaskChange& change) {
          return input.tasks[at(change.task)].order == order.order;
        }));
    changes.at_risk.push_back(*risk);
  }
  std::ranges::stable_sort(changes.at_risk, {}, &PromiseAtRisk::days_left);
  return changes;
}

std::string in_words(const PlanInput& input, const Cause& cause) {
  const auto task = [&] { return input.tasks[at(cause.by)].id; };
  switch (cause.kind) {
    case CauseKind::kArrival:
      return "parts come later: " + input.arrivals[at(cause.by)].what;
    case CauseKind::kAbsent:
      return input.people[at(cause.by)].id + " is not there for it";
    case CauseKind::kOverdue: return "it was to start before now";
    case CauseKind::kBefore: return task() + " before it ends later";
    case CauseKind::kPersonTaken: return "its person now does " + task();
    case CauseKind::kStandTaken: return "its stand is taken by " + task();
    case CauseKind::kBikeTaken: return "the bike is needed for " + task();
    case CauseKind::kLendingTaken: return "who was to lend a hand now does " + task();
    case CauseKind::kLendingShort: return "it takes more people at once than the last plan had";
    case CauseKind::kSecondPerson: return task() + " is done by the same person";
    case CauseKind::kNewWork:
      return "order " + input.orders[at(cause.by)].id + " was not in the last plan";
    case CauseKind::kBetter: return "the whole plan is better so";
  }
  return {};
}

}  // namespace rollwright::plan
