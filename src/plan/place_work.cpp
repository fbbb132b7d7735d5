#include "plan/place_work.hpp"

#include "base/index.hpp"

#include <algorithm>
#include <array>
#include <bit>
#include <span>
#include <tuple>
#include <utility>

namespace rollwright::plan {
StandsTaken::StandsTaken(int stands, int days) : stands_(stands) {
  for (int day = 0; day < days; ++day) days_.push_back({{day * kMinutesPerDay, 0}});
}

/// A day has few steps, so that looking from its end is quick.
std::size_t StandsTaken::step_at(const Steps& steps, int minute) {
  std::size_t step = steps.size() - 1;
  while (steps[step].from > minute) --step;
  return step;
}

int StandsTaken::clash(const Window& span) const {
  bool full = false;
  for (std::size_t day = at(span.from / kMinutesPerDay); day < days_.size(); ++day) {
    const Steps& steps = days_[day];
    std::size_t step = steps.front().from >= span.from ? 0 : step_at(steps, span.from);
    for (; step < steps.size(); ++step) {
      if (!full && steps[step].from >= span.to) return -1;
      const bool full_here = steps[step].taken >= stands_;
      if (full && !full_here) return steps[step].from;
      full = full_here;
    }
  }
  return full ? kNever : -1;
}

bool StandsTaken::full_at(int minute) const {
  const Steps& steps = days_[at(minute / kMinutesPerDay)];
  return steps[step_at(steps, minute)].taken >= stands_;
}

std::size_t StandsTaken::split_at(Steps& steps, int minute) {
  const std::size_t step = step_at(steps, minute);
  if (steps[step].from == minute) return step;
  steps.insert(steps.begin() + static_cast<long>(step) + 1, {minute, steps[step].taken});
  return step + 1;
}

void StandsTaken::join_at(Steps& steps, std::size_t step) {
  if (step == 0 || step >= steps.size() || steps[step].taken != steps[step - 1].taken) return;
  steps.erase(steps.begin() + static_cast<long>(step));
}

void StandsTaken::change(const Window& span, int by) {
  for (int midnight = span.from / kMinutesPerDay * kMinutesPerDay; midnight < span.to;
       midnight += kMinutesPerDay) {
    Steps& steps = days_[at(midnight / kMinutesPerDay)];
    const bool begins = span.from > midnight;
    const bool ends = span.to < midnight + kMinutesPerDay;
    const std::size_t first = begins ? split_at(steps, span.from) : 0;
    const std::size_t end = ends ? split_at(steps, span.to) : steps.size();
    for (std::size_t step = first; step < end; ++step) steps[step].taken += by;
    join_at(steps, end);
    join_at(steps, first);
  }
}

void StandsTaken::take(const Window& span) { change(span, 1); }

void StandsTaken::give_back(const Window& span) { change(span, -1); }

Shopfloor::Shopfloor(const PlanInput& input_, double arrival_confidence)
    : input(input_),
      able(input.tasks.size()),
      lending(who_can_lend(input)),
      minutes(input.tasks.size() * input.people.size()),
      parts_in_hand(input.tasks.size(), input.now),
      last_part(input.tasks.size(), -1),
      witnesses(input.tasks.size()),
      of_order(input.orders.size()) {
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
    for (std::size_t person = 0; person < hours.size(); ++person) {
      minutes[index * hours.size() + person] = hours[person].minutes_at_work(task.minutes);
    }
    if (is_open(input, task)) of_order[at(task.order)].push_back(static_cast<int>(index));
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
    : floor_(&floor),
      patience_(patience),
      spots_(floor.input.tasks.size()),
      people_(floor.input.people.size()),
      bikes_(floor.input.orders.size()) {
  for (const Area& area : floor.input.areas) areas_.emplace_back(area.stands, floor.input.days);
  // Frozen work lies before anything else, so that nothing can take its place.
  for (std::size_t index = 0; index < spots_.size(); ++index) {
    const Task& task = floor.input.tasks[index];
    if (!is_open(floor.input, task) || !is_frozen(floor.input, task)) continue;
    const int person = task.previous->person;
    const PersonHours& hours = floor.hours[at(person)];
    const PersonHours::Stay stay = hours.earliest(
        task.previous->start, hours.minutes_at_work(task.minutes), Pause::kAnywhere);
    if (stay.start < 0) continue;
    const std::uint64_t lending = task.hands > 1 ? task.previous->lending : 0;
    put_back(static_cast<int>(index), {person, stay.start, stay.end, lending});
  }
}

void WorkPlacer::put(int task, int not_before) {
  if (spots_[at(task)].person >= 0) return;
  const auto from = earliest(task);
  if (!from) return;
  const Spot spot = choose(task, std::max(from->minute, not_before));
  if (spot.person >= 0) put_back(task, spot);
}

bool WorkPlacer::put_at(int task, const Assignment& where) {
  if (spots_[at(task)].person >= 0 || where.start < floor_->input.now) return false;
  const auto from = earliest(task);
  if (!from || from->minute > where.start) return false;
  if ((allowed(task) >> where.person & 1) == 0) return false;
  if (where.lending != 0 && !has_its_hands(floor_->input.tasks[at(task)], where)) return false;
  const Spot spot = fit(task, where.person, where.start, {.start = where.start}, where.lending);
  if (spot.person < 0) return false;
  put_back(task, spot);
  return true;
}

bool WorkPlacer::put_as_before(int task) {
  const auto& previous = floor_->input.tasks[at(task)].previous;
  return previous && has_its_hands(floor_->input.tasks[at(task)], *previous) &&
         put_at(task, *previous);
}

bool WorkPlacer::put_on_its_day(int task) {
  const auto& previous = floor_->input.tasks[at(task)].previous;
  if (spots_[at(task)].person >= 0 || !previous) return false;
  if ((allowed(task) >> previous->person & 1) == 0) return false;
  const auto from = earliest(task);
  const int midnight = previous->start / kMinutesPerDay * kMinutesPerDay;
  const int last = midnight + kMinutesPerDay - 1;
  if (!from || from->minute > last) return false;
  const Spot spot =
      fit(task, previous->person, std::max(from->minute, midnight), {.start = last});
  if (spot.person < 0) return false;
  put_back(task, spot);
  return true;
}

/// None when something it comes after found no room.
std::optional<WorkPlacer::Earliest> WorkPlacer::earliest(int task) const {
  const PlanInput& input = floor_->input;
  Earliest found{.minute = input.now};
  for (const int before : input.tasks[at(task)].after) {
    if (input.tasks[at(before)].done) continue;
    const Spot& first = spots_[at(before)];
    if (first.person < 0) return {};
    const int over = first.end + input.tasks[at(before)].unattended;
    if (over > found.minute) found = {over, before};
  }
  if (floor_->parts_in_hand[at(task)] > found.minute) {
    found = {floor_->parts_in_hand[at(task)], Ran::kFirstArrival - floor_->last_part[at(task)]};
  }
  return found;
}

std::uint64_t WorkPlacer::doers_before(int task) const {
  std::uint64_t doers = 0;
  for (const int other : floor_->input.tasks[at(task)].not_by_doer_of) {
    const Task& first = floor_->input.tasks[at(other)];
    const int doer = first.done ? first.done_by : spots_[at(other)].person;
    if (doer >= 0) doers |= 1ULL << doer;
    doers |= first.done ? first.done_lending : spots_[at(other)].lending;
  }
  return doers;
}

/// How many must be left for a second person's task: one, and one more for each other second person
/// that it must differ from and who has no place yet.
int WorkPlacer::people_needed_for(int witness, int but) const {
  int needed = 1;
  for (const int other : floor_->input.tasks[at(witness)].not_by_doer_of) {
    const Task& first = floor_->input.tasks[at(other)];
    if (other != but && !first.not_by_doer_of.empty() && is_open(floor_->input, first) &&
        spots_[at(other)].person < 0) {
      ++needed;
    }
  }
  return needed;
}

/// People who may take the task: with the skill, not barred as second person, and leaving enough
/// people for each later task that needs somebody else.
std::uint64_t WorkPlacer::allowed(int task) const {
  std::uint64_t people = floor_->able[at(task)] & ~doers_before(task);
  for (const int witness : floor_->witnesses[at(task)]) {
    if (!is_open(floor_->input, floor_->input.tasks[at(witness)])) continue;
    if (const int own = spots_[at(witness)].person; own >= 0) people &= ~(1ULL << own);
    const std::uint64_t left = floor_->able[at(witness)] & ~doers_before(witness);
    if (std::popcount(left) <= people_needed_for(witness, task)) people &= ~left;
  }
  return people;
}

/// The soonest for that person; nobody when that is too late.
Spot WorkPlacer::fit(int task, int person, int from, const Latest& latest,
                     std::uint64_t only) const {
  const Task& what = floor_->input.tasks[at(task)];
  const PersonHours& hours = floor_->hours[at(person)];
  const int minutes = floor_->minutes[at(task) * people_.size() + at(person)];
  while (true) {
    const auto stay = hours.earliest(from, minutes, pause_of(what), people_[at(person)]);
    if (stay.start < 0 || stay.start > latest.start || stay.end > latest.end) return {};
    const Window span{stay.start, stay.end};
    int free_again = areas_[at(what.area)].clash(span);
    if (free_again < 0 && what.on_bike) free_again = bikes_[at(what.order)].clash(span);
    std::uint64_t lending = 0;
    if (free_again < 0 && what.hands > 1) {
      const Lent lent = lend(task, person, span, only);
      free_again = lent.free_again;
      lending = lent.people;
    }
    if (free_again < 0) return {person, stay.start, stay.end, lending};
    from = free_again;
  }
}

Spot WorkPlacer::choose(int task, int from) const {
  const auto& previous = floor_->input.tasks[at(task)].previous;
  std::array<Spot, 64> choices;
  std::size_t count = 0;
  int soonest = kNever;
  for (std::uint64_t left = allowed(task); left != 0; left &= left - 1) {
    // Who ends it too long after the soonest is not preferred whatever their skills.
    const Spot spot = fit(task, std::countr_zero(left), from, {.end = soonest + patience_});
    if (spot.person < 0) continue;
    soonest = std::min(soonest, spot.end);
    choices[count++] = spot;
  }
  Spot best;
  auto best_rank = std::tuple(true, 0, 0);
  for (const Spot& spot : std::span(choices.data(), count)) {
    if (spot.end > soonest + patience_) continue;
    const auto rank = std::tuple(!(previous && previous->person == spot.person),
                                 floor_->skill_count[at(spot.person)], spot.end);
    if (best.person >= 0 && best_rank <= rank) continue;
    best = spot;
    best_rank = rank;
  }
  return best;
}

void WorkPlacer::put_back(int task, const Spot& spot) {
  const Task& what = floor_->input.tasks[at(task)];
  const Window span{spot.start, spot.end};
  spots_[at(task)] = spot;
  people_[at(spot.person)].take(floor_->hours[at(spot.person)].at_work({spot.start, spot.end}));
  for (std::uint64_t left = spot.lending; left != 0; left &= left - 1) {
    const std::size_t other = at(std::countr_zero(left));
    people_[other].take(floor_->hours[other].at_work({spot.start, spot.end}));
  }
  areas_[at(what.area)].take(span);
  if (what.on_bike) bikes_[at(what.order)].take(span);
}

void WorkPlacer::take_out(int task) {
  const Task& what = floor_->input.tasks[at(task)];
  const Spot spot = std::exchange(spots_[at(task)], {});
  if (spot.person < 0) return;
  const Window span{spot.start, spot.end};
  people_[at(spot.person)].give_back(
      floor_->hours[at(spot.person)].at_work({spot.start, spot.end}));
  for (std::uint64_t left = spot.lending; left != 0; left &= left - 1) {
    const std::size_t other = at(std::countr_zero(left));
    people_[other].give_back(floor_->hours[other].at_work({spot.start, spot.end}));
  }
  areas_[at(what.area)].give_back(span);
  if (what.on_bike) bikes_[at(what.order)].give_back(span);
}

std::vector<PlannedTask> WorkPlacer::placed() const {
  std::vector<PlannedTask> all(spots_.size());
  for (std::size_t task = 0; task < all.size(); ++task) {
    const Spot& spot = spots_[task];
    all[task].task = static_cast<int>(task);
    all[task].person = spot.person;
    if (spot.person < 0) continue;
    all[task].segments = floor_->hours[at(spot.person)].segments({spot.start, spot.end});
    all[task].lending = spot.lending;
  }
  return all;
}

std::vector<Ran> WorkPlacer::ran() const {
  std::vector<Ran> all;
  for (std::size_t task = 0; task < spots_.size(); ++task) {
    all.push_back(ran_of(static_cast<int>(task)));
  }
  return all;
}

Ran WorkPlacer::ran_of(int task) const {
  const Task& what = floor_->input.tasks[at(task)];
  const Spot& spot = spots_[at(task)];
  Ran ran{.start = spot.start, .end = spot.end};
  if (spot.person < 0) return ran;
  if (is_frozen(floor_->input, what)) {
    ran.could_start = spot.start;
    ran.because = Ran::kFrozenStart;
  } else if (const auto from = earliest(task)) {
    ran.could_start = from->minute;
    ran.because = from->because;
  }
  find_wait(task, ran);
  return ran;
}

void WorkPlacer::find_wait(int task, Ran& ran) const {
  const Task& what = floor_->input.tasks[at(task)];
  const int person = spots_[at(task)].person;
  int able = ran.could_start;
  if (what.on_bike) {
    for (const int other : floor_->of_order[at(what.order)]) {
      const Spot& sibling = spots_[at(other)];
      if (!floor_->input.tasks[at(other)].on_bike || sibling.person < 0) continue;
      if (other == task || sibling.end > ran.start || sibling.end <= able) continue;
      able = sibling.end;
      ran.bike_before = other;
    }
  }
  if (able >= ran.start) return;
  const Window waited = floor_->hours[at(person)].at_work({able, ran.start});
  if (areas_[at(what.area)].full_at(ran.start - 1)) {
    ran.wait = HoldKind::kStand;
  } else if (what.hands > 1 && waits_for_hands(task, able)) {
    ran.wait = HoldKind::kHands;
  } else if (waited.from < waited.to && people_[at(person)].clash(waited) >= 0) {
    ran.wait = HoldKind::kPeople;
  } else {
    ran.wait = HoldKind::kHours;
  }
}

}  // namespace rollwright::plan
