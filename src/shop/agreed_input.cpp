#include "shop/agreed_input.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/index.hpp"
#include "plan/calendar.hpp"
#include "plan/finish_plan.hpp"
#include "plan/order_facts.hpp"
#include "plan/pin_task.hpp"
#include "plan/place_work.hpp"

namespace rollwright::shop {
namespace {

/// Work that was begun longer ago than this and is not done is planned anew.
constexpr int kMostDaysBack = 14;
constexpr int kNoon = 720;

std::optional<int> person_index(const plan::PlanInput& input, const trade::PersonId& id) {
  const auto found = std::ranges::find(input.people, id.text, &plan::Person::id);
  if (found == input.people.end()) return {};
  return static_cast<int>(found - input.people.begin());
}

/// First day of work that is planned and not done, today at the latest.
Day first_day_of(const State& state, Day today) {
  Day first = today;
  for (const auto& [id, plan] : state.agreed->work) {
    const auto order = state.orders.find(id);
    if (order == state.orders.end() || !trade::is_live(order->second->state)) continue;
    for (const trade::PlannedWork& work : plan.work) {
      if (!order->second->done.contains(work.operation)) first = std::min(first, work.start.day);
    }
  }
  return std::max(first, today - std::chrono::days(kMostDaysBack));
}

/// Minutes of planned work from the first day on; none for work that the plan does not know.
void put_agreed_places(WorkshopInput& workshop, const State& state) {
  plan::PlanInput& input = workshop.input;
  for (std::size_t index = 0; index < input.tasks.size(); ++index) {
    plan::Task& task = input.tasks[index];
    const trade::PlannedWork* work = planned_work(
        state, workshop.orders[at(task.order)]->id, workshop.operations[index]->id);
    if (work == nullptr) continue;
    const auto person = person_index(input, work->person);
    if (!person) continue;
    if (task.done) task.done_by = *person;
    const int start = plan::minute_at(input.first_day, work->start.day) + work->start.minute;
    if (start >= 0 && start < input.days * plan::kMinutesPerDay) task.previous = {*person, start};
  }
}

/// 00:00 after the last of the frozen days: days on which somebody works.
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

/// What starts before `until` and can be done so; what should be over by now is not among it.
std::vector<int> frozen_tasks(const plan::PlanInput& input, int until) {
  plan::PlanInput as_agreed = input;
  as_agreed.now = 0;  // what has begun keeps its start
  const plan::Shopfloor floor(as_agreed, kReckonedArrival);
  plan::WorkPlacer placer(floor, 0);
  std::vector<int> frozen;
  for (const int task : by_start(input)) {
    if (input.tasks[at(task)].previous->start >= until) break;
    if (!placer.put_as_before(task)) continue;
    if (placer.spots()[at(task)].end <= input.now) {
      placer.take_out(task);
    } else {
      frozen.push_back(task);
    }
  }
  return frozen;
}

plan::ShopPlan kept_plan(const plan::PlanInput& input) {
  const plan::Shopfloor floor(input, kReckonedArrival);
  plan::WorkPlacer placer(floor, 0);
  for (const int task : by_start(input)) {
    if (placer.spots()[at(task)].person < 0) placer.put_as_before(task);
  }
  const plan::OrderFacts facts = plan::facts_of(input, kReckonedArrival);
  plan::ShopPlan plan = plan::plan_from(placer, floor, facts);
  plan::add_chains(plan, placer, floor);
  return plan;
}

class PinKeeper {
 public:
  PinKeeper(AgreedInput& agreed, const State& state, const std::optional<WithoutPin>& without)
      : agreed_(agreed), state_(state), without_(without) {}

  void keep_all() {
    for (const int task : by_start(agreed_.input)) {
      if (agreed_.held[at(task)] == HeldBy::kNothing || agreed_.held[at(task)] == HeldBy::kBeforePin) {
        if (is_pinned(task)) keep(task);
      }
    }
  }

 private:
  bool is_pinned(int task) const {
    const trade::OrderId& order = agreed_.workshop.orders[at(task_at(task).order)]->id;
    const std::string& operation = agreed_.workshop.operations[at(task)]->id;
    if (without_ && without_->order == order.text && without_->operation == operation) return false;
    const trade::PlannedWork* work = planned_work(state_, order, operation);
    return work != nullptr && !work->pinned_by.empty();
  }

  void keep(int task) {
    const plan::Assignment where = *task_at(task).previous;
    auto pinned = plan::pinned_by_hand(agreed_.input, agreed_.kept, task, where, kReckonedArrival);
    if (!pinned) {
      agreed_.broken.push_back({task, pinned.error().sentence});
      return;
    }
    for (std::size_t other = 0; other < pinned->tasks.size(); ++other) {
      if (!pinned->tasks[other].pinned || agreed_.held[other] != HeldBy::kNothing) continue;
      agreed_.held[other] = HeldBy::kBeforePin;
    }
    agreed_.held[at(task)] = HeldBy::kPin;
    agreed_.input = std::move(*pinned);
  }

  const plan::Task& task_at(int task) const { return agreed_.workshop.input.tasks[at(task)]; }

  AgreedInput& agreed_;
  const State& state_;
  const std::optional<WithoutPin>& without_;
};

}  // namespace

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

bool AgreedInput::cannot_stay(int task) const {
  return was_planned(task) && plan::is_open(input, input.tasks[at(task)]) &&
         !kept.tasks[at(task)].placed();
}

bool AgreedInput::is_new(int task) const {
  return !was_planned(task) && plan::is_open(input, input.tasks[at(task)]);
}

bool AgreedInput::holds() const {
  for (std::size_t task = 0; task < input.tasks.size(); ++task) {
    if (cannot_stay(static_cast<int>(task)) || is_new(static_cast<int>(task))) return false;
  }
  return number > 0;
}

const trade::PlannedWork* planned_work(const State& state, const trade::OrderId& order,
                                       const std::string& operation) {
  const auto plan = state.agreed->work.find(order);
  if (plan == state.agreed->work.end()) return nullptr;
  const auto work =
      std::ranges::find(plan->second.work, operation, &trade::PlannedWork::operation);
  return work == plan->second.work.end() ? nullptr : &*work;
}

Result<AgreedInput> agreed_input(const trade::Trade& trade, const State& state,
                                 const LocalTime& now, const std::optional<WithoutPin>& without) {
  const Day first_day = first_day_of(state, now.day);
  Result<WorkshopInput> workshop = workshop_input(trade, state, now, nullptr, first_day);
  if (!workshop) return std::unexpected(workshop.error());
  AgreedInput agreed{.number = state.agreed->plan ? state.agreed->plan->number : 0,
                     .workshop = std::move(*workshop)};
  agreed.uncertain = agreed.workshop.input;
  agreed.workshop.input = reckoned(std::move(agreed.workshop.input));
  put_agreed_places(agreed.workshop, state);
  agreed.today = plan::minute_at(first_day, now.day);
  agreed.input = agreed.workshop.input;
  agreed.held.resize(agreed.input.tasks.size());
  agreed.frozen_until =
      end_of_frozen(agreed.input, agreed.today, state.agreed->settings.frozen_days);
  for (const int task : frozen_tasks(agreed.input, agreed.frozen_until)) {
    agreed.input.tasks[at(task)].pinned = true;
    agreed.held[at(task)] = HeldBy::kFrozen;
  }
  if (Problems problems = plan::problems_of(agreed.input); !problems.empty()) {
    return std::unexpected(std::move(problems.front()));
  }
  agreed.kept = kept_plan(agreed.input);
  PinKeeper(agreed, state, without).keep_all();
  return agreed;
}

std::vector<HeldPlace> places_of(const AgreedInput& agreed) {
  std::vector<HeldPlace> places;
  for (std::size_t task = 0; task < agreed.held.size(); ++task) {
    if (agreed.held[task] != HeldBy::kFrozen && agreed.held[task] != HeldBy::kPin) continue;
    places.push_back({static_cast<int>(task), *agreed.input.tasks[task].previous,
                      agreed.held[task] == HeldBy::kPin});
  }
  std::ranges::stable_sort(places, {}, [](const HeldPlace& place) { return place.where.start; });
  return places;
}

namespace {

/// Its parts are in the house, and what comes before it is done or frozen as well.
bool is_certain(const plan::PlanInput& input, const plan::Task& task) {
  return task.parts.empty() && std::ranges::all_of(task.after, [&](int before) {
    return input.tasks[at(before)].done || input.tasks[at(before)].pinned;
  });
}

/// Only that person, not before that half day.
void hold_by_hand(plan::PlanInput& input, const HeldPlace& place) {
  constexpr std::size_t kMostSkills = 64;
  plan::Task& task = input.tasks[at(place.task)];
  plan::Person& person = input.people[at(place.where.person)];
  const std::string own = "hand of " + person.id;
  auto skill = std::ranges::find(input.skills, own);
  if (skill == input.skills.end() && input.skills.size() < kMostSkills) {
    skill = input.skills.insert(input.skills.end(), own);
  }
  if (skill != input.skills.end()) {
    const plan::SkillSet bit = plan::SkillSet{1} << (skill - input.skills.begin());
    person.skills |= bit;
    task.any_of = bit;
  }
  const Day day = plan::day_at(input.first_day, place.where.start);
  const bool after_noon = place.where.start % plan::kMinutesPerDay >= kNoon;
  task.parts.push_back(static_cast<int>(input.arrivals.size()));
  input.arrivals.push_back({.what = "the start set by hand for " + task.id,
                            .known = after_noon ? day : day - std::chrono::days(1),
                            .working_days = {}});
}

}  // namespace

void hold_for_odds(plan::PlanInput& input, const std::vector<HeldPlace>& places) {
  for (const HeldPlace& place : places) {
    plan::Task& task = input.tasks[at(place.task)];
    if (place.by_hand) {
      hold_by_hand(input, place);
    } else if (is_certain(input, task)) {
      task.previous = place.where;
      task.pinned = true;
    }
  }
  if (plan::problems_of(input).empty()) return;
  // Frozen work that clashes with work done otherwise than planned: odds without it.
  for (plan::Task& task : input.tasks) {
    task.pinned = false;
    task.previous.reset();
  }
}

void hold_for_odds(WorkshopInput& workshop, const State& state, const LocalTime& now) {
  if (!state.agreed->plan) return;
  AgreedInput agreed{.number = state.agreed->plan->number, .workshop = workshop};
  agreed.workshop.input = reckoned(std::move(agreed.workshop.input));
  put_agreed_places(agreed.workshop, state);
  agreed.input = agreed.workshop.input;
  const int until = end_of_frozen(agreed.input, plan::minute_at(agreed.input.first_day, now.day),
                                  state.agreed->settings.frozen_days);
  std::vector<HeldPlace> places;
  for (const int task : frozen_tasks(agreed.input, until)) {
    places.push_back({task, *agreed.input.tasks[at(task)].previous, false});
  }
  for (const int task : by_start(agreed.input)) {
    const plan::Task& what = agreed.input.tasks[at(task)];
    const trade::PlannedWork* work =
        planned_work(state, workshop.orders[at(what.order)]->id, workshop.operations[at(task)]->id);
    const bool frozen = std::ranges::find(places, task, &HeldPlace::task) != places.end();
    if (!frozen && what.previous->start >= agreed.input.now && !work->pinned_by.empty()) {
      places.push_back({task, *what.previous, true});
    }
  }
  hold_for_odds(workshop.input, places);
  auto& input = workshop.input;
  workshop.orders_of_arrival.resize(input.arrivals.size());
  workshop.arrival_confirmed.resize(input.arrivals.size(), true);
}

}  // namespace rollwright::shop
