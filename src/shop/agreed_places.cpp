#include "shop/agreed_places.hpp"

#include <algorithm>

#include "base/index.hpp"
#include "plan/calendar.hpp"
#include "plan/place_work.hpp"
#include "plan/shop_plan.hpp"

namespace rollwright::shop {
namespace {

std::optional<int> person_index(const plan::PlanInput& input, const trade::PersonId& id) {
  const auto found = std::ranges::find(input.people, id.text, &plan::Person::id);
  if (found == input.people.end()) return {};
  return static_cast<int>(found - input.people.begin());
}

/// Those who still work here.
std::uint64_t lending_of(const plan::PlanInput& input, const trade::PlannedWork& work) {
  std::uint64_t lending = 0;
  for (const trade::PersonId& id : work.lending) {
    if (const auto person = person_index(input, id)) lending |= plan::person_bit(*person);
  }
  return lending;
}

void pin(plan::PlanInput& input, const std::vector<int>& tasks, bool pinned) {
  for (const int task : tasks) input.tasks[at(task)].pinned = pinned;
}

}  // namespace

const trade::PlannedWork* agreed_work(const WorkshopInput& workshop, const State& state,
                                      int task) {
  const int order = workshop.input.tasks[at(task)].order;
  const auto plan = state.agreed->work.find(workshop.orders[at(order)]->id);
  if (plan == state.agreed->work.end()) return nullptr;
  const auto work = std::ranges::find(plan->second.work, workshop.operations[at(task)]->id,
                                      &trade::PlannedWork::operation);
  return work == plan->second.work.end() ? nullptr : &*work;
}

void put_agreed_places(WorkshopInput& workshop, const State& state) {
  plan::PlanInput& input = workshop.input;
  for (std::size_t index = 0; index < input.tasks.size(); ++index) {
    plan::Task& task = input.tasks[index];
    const trade::PlannedWork* work = agreed_work(workshop, state, static_cast<int>(index));
    if (work == nullptr) continue;
    const auto person = person_index(input, work->person);
    if (!person) continue;
    const std::uint64_t lending = lending_of(input, *work);
    if (task.done) {
      task.done_by = *person;
      task.done_lending = lending;
    }
    const int start = plan::minute_at(input.first_day, work->start.day) + work->start.minute;
    if (start < 0 || start >= input.days * plan::kMinutesPerDay) continue;
    task.previous = {*person, start, lending};
  }
}

std::vector<int> by_start(const plan::PlanInput& input) {
  std::vector<int> tasks;
  for (std::size_t task = 0; task < input.tasks.size(); ++task) {
    if (plan::is_open(input, input.tasks[task]) && input.tasks[task].previous) {
      tasks.push_back(static_cast<int>(task));
    }
  }
  std::ranges::stable_sort(tasks, {}, [&](int task) {
    return input.tasks[at(task)].previous->start;
  });
  return tasks;
}

plan::PlanInput reckoned(plan::PlanInput input) {
  for (plan::Arrival& arrival : input.arrivals) {
    const int minute = plan::in_hand(input, arrival, kReckonedArrival);
    if (arrival.known || minute >= plan::kNever) continue;
    const Day day = plan::day_at(input.first_day, minute);
    // What should be here by now counts as here.
    arrival.known = minute <= input.now ? day - std::chrono::days(1) : day;
  }
  return input;
}

int end_of_frozen(const plan::PlanInput& input, int today, int frozen_days) {
  int day = today / plan::kMinutesPerDay;
  for (int left = frozen_days; left > 0 && day + 1 < input.days;) {
    ++day;
    const bool works = std::ranges::any_of(input.people, [day](const plan::Person& person) {
      return std::ranges::any_of(person.hours, [day](const plan::Window& window) {
        return window.from / plan::kMinutesPerDay == day;
      });
    });
    if (works) --left;
  }
  return (day + 1) * plan::kMinutesPerDay;
}

std::vector<int> frozen_tasks(const WorkshopInput& workshop, const State& state,
                              const plan::PlanInput& input, int until) {
  plan::PlanInput as_agreed = input;
  as_agreed.now = 0;  // what has begun keeps its start
  const plan::Shopfloor floor(as_agreed, kReckonedArrival);
  plan::WorkPlacer placer(floor, 0);
  std::vector<int> frozen;
  for (const int task : by_start(input)) {
    if (input.tasks[at(task)].previous->start >= until) break;
    if (!placer.put_as_before(task)) continue;
    const int end = placer.spots()[at(task)].end;
    const Day agreed_end = agreed_work(workshop, state, task)->end.day;
    if (end <= input.now || plan::day_at(input.first_day, end) > agreed_end) {
      placer.take_out(task);
    } else {
      frozen.push_back(task);
    }
  }
  return frozen;
}

std::vector<NotKept> pin_what_can(plan::PlanInput& input, const std::vector<int>& tasks) {
  pin(input, tasks, true);
  if (plan::problems_of(input).empty()) return {};
  pin(input, tasks, false);
  if (!plan::problems_of(input).empty()) return {};
  std::vector<NotKept> free;
  for (const int task : tasks) {
    input.tasks[at(task)].pinned = true;
    const Problems problems = plan::problems_of(input);
    if (problems.empty()) continue;
    input.tasks[at(task)].pinned = false;
    free.push_back({task, problems.front().sentence});
  }
  return free;
}

std::string forget_doers_that_clash(plan::PlanInput& input) {
  const Problems problems = plan::problems_of(input);
  if (problems.empty()) return {};
  plan::PlanInput without = input;
  for (plan::Task& task : without.tasks) {
    task.done_by = -1;
    task.done_lending = 0;
  }
  if (!plan::problems_of(without).empty()) return {};
  input = std::move(without);
  return problems.front().sentence;
}

}  // namespace rollwright::shop
