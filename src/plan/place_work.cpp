#include "plan/place_work.hpp"

#include "base/index.hpp"

#include <algorithm>
#include <bit>
#include <tuple>

namespace rollwright::plan {
int Taken::clash(const Window& span) const {
  const auto found = std::ranges::upper_bound(spans_, span.from, {}, &Window::to);
  return found != spans_.end() && found->from < span.to ? found->to : -1;
}

void Taken::take(const Window& span) {
  spans_.insert(std::ranges::upper_bound(spans_, span.from, {}, &Window::from), span);
}

std::size_t StandsTaken::step_at(int minute) const {
  const auto next = std::ranges::upper_bound(steps_, minute, {}, &Step::from);
  return static_cast<std::size_t>(next - steps_.begin()) - 1;
}

int StandsTaken::clash(const Window& span) const {
  for (std::size_t step = step_at(span.from); step < steps_.size(); ++step) {
    if (steps_[step].from >= span.to) return -1;
    if (steps_[step].taken < stands_) continue;
    while (steps_[step].taken >= stands_) ++step;  // the last step is always empty
    return steps_[step].from;
  }
  return -1;
}

bool StandsTaken::full_at(int minute) const { return steps_[step_at(minute)].taken >= stands_; }

std::size_t StandsTaken::split_at(int minute) {
  const std::size_t step = step_at(minute);
  if (steps_[step].from == minute) return step;
  steps_.insert(steps_.begin() + static_cast<long>(step) + 1, {minute, steps_[step].taken});
  return step + 1;
}

void StandsTaken::take(const Window& span) {
  const std::size_t first = split_at(span.from);
  const std::size_t end = split_at(span.to);
  for (std::size_t step = first; step < end; ++step) ++steps_[step].taken;
}

Shopfloor::Shopfloor(const PlanInput& input_, double arrival_confidence)
    : input(input_),
      able(input.tasks.size()),
      parts_in_hand(input.tasks.size(), input.now),
      last_part(input.tasks.size(), -1),
      witnesses(input.tasks.size()) {
  const Disturbance& odds = input.disturbance;
  const double own = 1 - (odds.walk_in_least + odds.walk_in_most) / 2;
  for (const Person& person : input.people) {
    hours.emplace_back(person.hours, person.productive * own);
    skill_count.push_back(std::popcount(person.skills));
  }
  std::vector<int> arrives;
  for (const Arrival& arrival : input.arrivals) {
    arrives.push_back(in_hand(input, arrival, arrival_confidence));
  }
  for (std::size_t index = 0; index < input.tasks.size(); ++index) {
    const Task& task = input.tasks[index];
    able[index] = who_can(input, task);
    for (const int part : task.parts) {
      if (arrives[at(part)] <= parts_in_hand[index]) continue;
      parts_in_hand[index] = arrives[at(part)];
      last_part[index] = part;
    }
    for (const int other : task.not_by_doer_of) {
      witnesses[at(other)].push_back(static_cast<int>(index));
    }
  }
}

WorkPlacer::WorkPlacer(const Shopfloor& floor, int patience)
    : floor_(floor),
      patience_(patience),
      placed_(floor.input.tasks.size()),
      ran_(floor.input.tasks.size()),
      people_(floor.input.people.size()),
      bikes_(floor.input.orders.size()) {
  for (const Area& area : floor.input.areas) areas_.emplace_back(area.stands);
  for (std::size_t index = 0; index < placed_.size(); ++index) {
    placed_[index].task = static_cast<int>(index);
  }
  // Frozen work lies before anything else, so that nothing can take its place.
  for (std::size_t index = 0; index < placed_.size(); ++index) {
    const Task& task = floor.input.tasks[index];
    if (!is_open(floor.input, task) || !is_frozen(floor.input, task)) continue;
    const int person = task.previous->person;
    const PersonHours& hours = floor.hours[at(person)];
    const PersonHours::Stay stay = hours.earliest(
        task.previous->start, hours.minutes_at_work(task.minutes), Pause::kAnywhere);
    ran_[index].because = Ran::kFrozenStart;
    ran_[index].could_start = stay.start;
    if (stay.start >= 0) keep(static_cast<int>(index), {person, stay});
  }
}

void WorkPlacer::put(int task) {
  if (placed_[at(task)].placed()) return;
  Ran& ran = ran_[at(task)];
  if (!set_earliest(task, ran)) return;
  const Choice choice = choose(task, ran.could_start);
  if (choice.person >= 0) keep(task, choice);
}

/// False when something it comes after found no room.
bool WorkPlacer::set_earliest(int task, Ran& ran) const {
  const PlanInput& input = floor_.input;
  ran.could_start = input.now;
  ran.because = Ran::kNow;
  for (const int before : input.tasks[at(task)].after) {
    if (input.tasks[at(before)].done) continue;
    const PlannedTask& first = placed_[at(before)];
    if (!first.placed()) return false;
    const int over = first.end() + input.tasks[at(before)].unattended;
    if (over <= ran.could_start) continue;
    ran.could_start = over;
    ran.because = before;
  }
  if (floor_.parts_in_hand[at(task)] > ran.could_start) {
    ran.could_start = floor_.parts_in_hand[at(task)];
    ran.because = Ran::kFirstArrival - floor_.last_part[at(task)];
  }
  return true;
}

std::uint64_t WorkPlacer::doers_before(int task) const {
  std::uint64_t doers = 0;
  for (const int other : floor_.input.tasks[at(task)].not_by_doer_of) {
    const Task& first = floor_.input.tasks[at(other)];
    const int doer = first.done ? first.done_by : placed_[at(other)].person;
    if (doer >= 0) doers |= 1ULL << doer;
  }
  return doers;
}

/// People who may take the task: with the skill, not barred as second person, and leaving enough
/// people for each later task that needs somebody else.
std::uint64_t WorkPlacer::allowed(int task) const {
  std::uint64_t people = floor_.able[at(task)] & ~doers_before(task);
  for (const int witness : floor_.witnesses[at(task)]) {
    if (!is_open(floor_.input, floor_.input.tasks[at(witness)])) continue;
    const std::uint64_t left = floor_.able[at(witness)] & ~doers_before(witness);
    // Other second persons that the witness must differ from will each use up one more.
    int needed = 1;
    for (const int other : floor_.input.tasks[at(witness)].not_by_doer_of) {
      const Task& first = floor_.input.tasks[at(other)];
      if (other != task && !first.not_by_doer_of.empty() && is_open(floor_.input, first) &&
          !placed_[at(other)].placed()) {
        ++needed;
      }
    }
    if (std::popcount(left) <= needed) people &= ~left;
  }
  return people;
}

PersonHours::Stay WorkPlacer::fit(int task, int person, int from) const {
  const Task& what = floor_.input.tasks[at(task)];
  const PersonHours& hours = floor_.hours[at(person)];
  const int minutes = hours.minutes_at_work(what.minutes);
  while (true) {
    const PersonHours::Stay stay = hours.earliest(from, minutes, what.pause);
    if (stay.start < 0) return stay;
    const Window span{stay.start, stay.end};
    int free_again = people_[at(person)].clash(span);
    if (free_again < 0) free_again = areas_[at(what.area)].clash(span);
    if (free_again < 0 && what.on_bike) free_again = bikes_[at(what.order)].clash(span);
    if (free_again < 0) return stay;
    from = free_again;
  }
}

WorkPlacer::Choice WorkPlacer::choose(int task, int from) const {
  const auto& previous = floor_.input.tasks[at(task)].previous;
  std::vector<Choice> choices;
  int soonest = kNever;
  const std::uint64_t people = allowed(task);
  for (int person = 0; person < static_cast<int>(people_.size()); ++person) {
    if ((people >> person & 1) == 0) continue;
    const Choice choice{person, fit(task, person, from)};
    if (choice.stay.start < 0) continue;
    soonest = std::min(soonest, choice.stay.end);
    choices.push_back(choice);
  }
  Choice best;
  auto best_rank = std::tuple(true, 0, 0);
  for (const Choice& choice : choices) {
    if (choice.stay.end > soonest + patience_) continue;
    const auto rank = std::tuple(!(previous && previous->person == choice.person),
                                 floor_.skill_count[at(choice.person)], choice.stay.end);
    if (best.person >= 0 && best_rank <= rank) continue;
    best = choice;
    best_rank = rank;
  }
  return best;
}

void WorkPlacer::keep(int task, const Choice& choice) {
  const Task& what = floor_.input.tasks[at(task)];
  const Window span{choice.stay.start, choice.stay.end};
  placed_[at(task)].person = choice.person;
  placed_[at(task)].segments = floor_.hours[at(choice.person)].segments(choice.stay);
  ran_[at(task)].start = span.from;
  ran_[at(task)].end = span.to;
  people_[at(choice.person)].take(span);
  areas_[at(what.area)].take(span);
  if (what.on_bike) bikes_[at(what.order)].take(span);
}

std::vector<Ran> WorkPlacer::ran() const {
  std::vector<Ran> all = ran_;
  for (std::size_t task = 0; task < all.size(); ++task) {
    if (all[task].start >= 0) find_wait(static_cast<int>(task), all[task]);
  }
  return all;
}

void WorkPlacer::find_wait(int task, Ran& ran) const {
  const Task& what = floor_.input.tasks[at(task)];
  int able = ran.could_start;
  if (what.on_bike) {
    for (std::size_t other = 0; other < ran_.size(); ++other) {
      const Task& sibling = floor_.input.tasks[other];
      if (sibling.order != what.order || !sibling.on_bike || ran_[other].start < 0) continue;
      if (static_cast<int>(other) == task || ran_[other].end > ran.start) continue;
      if (ran_[other].end <= able) continue;
      able = ran_[other].end;
      ran.bike_before = static_cast<int>(other);
    }
  }
  if (able >= ran.start) return;
  const auto worked = [&](const Window& span) { return able < span.to && span.from < ran.start; };
  const auto& own = people_[at(placed_[at(task)].person)].spans();
  if (areas_[at(what.area)].full_at(ran.start - 1)) {
    ran.wait = HoldKind::kStand;
  } else if (std::ranges::any_of(own, worked)) {
    ran.wait = HoldKind::kPeople;
  } else {
    ran.wait = HoldKind::kHours;
  }
}

}  // namespace rollwright::plan
