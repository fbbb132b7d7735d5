#include "shop/hold_for_odds.hpp"

#include <algorithm>

#include "base/index.hpp"
#include "plan/calendar.hpp"

namespace rollwright::shop {

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

constexpr int kNoon = 720;

/// Its parts are in the house, and what comes before it is done or keeps its start as well.
bool is_certain(const plan::PlanInput& input, const plan::Task& task,
                const std::vector<int>& certain) {
  return task.parts.empty() && std::ranges::all_of(task.after, [&](int before) {
    return input.tasks[at(before)].done || std::ranges::find(certain, before) != certain.end();
  });
}

/// Only that person, not before that half day.
plan::PlanInput held_by_hand(plan::PlanInput input, const HeldPlace& place) {
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
  return input;
}

/// Frozen work, then what was put somewhere by hand and is not frozen.
std::vector<HeldPlace> held_places(const WorkshopInput& workshop, const State& state, int today) {
  const plan::PlanInput input = reckoned(workshop.input);
  const int until = end_of_frozen(input, today, state.agreed->settings.frozen_days);
  const std::vector<int> frozen = frozen_tasks(workshop, state, input, until);
  std::vector<HeldPlace> places;
  for (const int task : frozen) places.push_back({task, *input.tasks[at(task)].previous, false});
  for (const int task : by_start(input)) {
    const plan::Assignment& where = *input.tasks[at(task)].previous;
    const bool by_hand = !agreed_work(workshop, state, task)->pinned_by.empty();
    if (!by_hand || where.start < input.now || std::ranges::find(frozen, task) != frozen.end()) {
      continue;
    }
    places.push_back({task, where, true});
  }
  return places;
}

}  // namespace

void hold_for_odds(plan::PlanInput& input, const std::vector<HeldPlace>& places) {
  std::vector<int> certain;
  for (const HeldPlace& place : places) {
    plan::Task& task = input.tasks[at(place.task)];
    if (place.by_hand || !is_certain(input, task, certain)) continue;
    task.previous = place.where;
    certain.push_back(place.task);
  }
  pin_what_can(input, certain);
  for (const HeldPlace& place : places) {
    if (!place.by_hand) continue;
    if (plan::PlanInput held = held_by_hand(input, place); plan::problems_of(held).empty()) {
      input = std::move(held);
    }
  }
}

Result<WorkshopInput> workshop_for_odds(const trade::Trade& trade, const State& state,
                                        const LocalTime& now, const trade::Order* also) {
  Result<WorkshopInput> workshop = workshop_input(trade, state, now, also);
  if (!workshop || !state.agreed->plan) return workshop;
  plan::PlanInput& input = workshop->input;
  put_agreed_places(*workshop, state);
  static_cast<void>(forget_doers_that_clash(input));  // the plan says so
  hold_for_odds(input, held_places(*workshop, state, 0));
  workshop->orders_of_arrival.resize(input.arrivals.size());
  workshop->arrival_confirmed.resize(input.arrivals.size(), true);
  workshop->arriving.resize(input.arrivals.size());
  return workshop;
}

}  // namespace rollwright::shop
