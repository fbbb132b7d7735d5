#include "simulated_bench.hpp"

#include <algorithm>
#include <bit>
#include <numeric>
#include <tuple>

#include "base/index.hpp"
#include "trade/skills.hpp"

namespace rollwright::bench {
namespace {

/// What is left of the day is trusted to this share: somebody always comes in.
constexpr double kTrusted = 0.7;

}  // namespace

Bench::Bench(const Catalogue& catalogue, Turns turns) : catalogue_(catalogue), turns_(turns) {
  for (const trade::Person& person : catalogue.files.people) {
    hands_.push_back({.skills = trade::skills_held(person.skills)});
  }
  asked_.resize(hands_.size());
  std::iota(asked_.begin(), asked_.end(), std::size_t{0});
  if (turns.spare_seniors) {
    std::ranges::stable_sort(asked_, {}, [&](std::size_t who) {
      return std::popcount(hands_[who].skills);
    });
  }
  for (const trade::Area& area : catalogue.files.areas) stands_free_[area.id] = area.stands;
}

int Bench::add(Bike bike) {
  std::vector<std::size_t> turn(bike.jobs.size());
  std::iota(turn.begin(), turn.end(), std::size_t{0});
  for (std::size_t job = bike.jobs.size(); job-- > 0;) {
    bike.jobs[job].chain += bike.jobs[job].expected;  // what comes after has added itself already
    for (const int before : bike.design->steps[job].after) {
      double& chain = bike.jobs[at(before)].chain;
      chain = std::max(chain, bike.jobs[job].chain);
    }
  }
  if (turns_.longest_chain) {
    std::ranges::stable_sort(turn, {}, [&](std::size_t job) { return -bike.jobs[job].chain; });
  }
  bike.open = static_cast<int>(bike.jobs.size());
  bikes_.push_back(std::move(bike));
  job_turn_.push_back(std::move(turn));
  const int place = static_cast<int>(bikes_.size()) - 1;
  turn_.push_back(place);
  sort_bikes();
  return place;
}

void Bench::tell(int bike, Day due) {
  bikes_[at(bike)].due = due;
  sort_bikes();
}

void Bench::sort_bikes() {
  std::ranges::stable_sort(turn_, [&](int a, int b) {
    const Bike& one = bikes_[at(a)];
    const Bike& other = bikes_[at(b)];
    const Day first = turns_.by_due ? one.due.value_or(Day::max()) : one.agreed;
    const Day second = turns_.by_due ? other.due.value_or(Day::max()) : other.agreed;
    return std::tie(first, a) < std::tie(second, b);
  });
}

void Bench::expect() {
  for (const int bike : turn_) {
    for (Job& job : bikes_[at(bike)].jobs) job.left = job.expected;
  }
}

void Bench::begin_day(int day, std::vector<Shift> shifts) {
  day_ = day;
  shifts_ = std::move(shifts);
  std::erase_if(turn_, [&](int bike) { return bikes_[at(bike)].open == 0; });
  for (std::size_t person = 0; person < hands_.size(); ++person) {
    hands_[person].in_vain = -1;
    if (shifts_[person].windows.empty()) put_down(person);
  }
}

void Bench::put_down(std::size_t person) {
  Hands& hands = hands_[person];
  if (hands.bike < 0) return;
  Bike& bike = bikes_[at(hands.bike)];
  Job& job = bike.jobs[at(hands.job)];
  job.in_hand = false;
  if (job.operation->needs_bike_stand) bike.on_stand = false;
  ++stands_free_[job.operation->area];
  hands.bike = hands.job = -1;
}

void Bench::work(int from, int to) {
  changed_ = from;
  for (int minute = from; minute < to; minute += kStep) step(minute);
}

void Bench::step(int minute) {
  for (const std::size_t person : asked_) {
    const bool works = at_bikes(person, minute);
    if (works && hands_[person].bike < 0) look_for_work(person, minute);
    if (works && hands_[person].bike >= 0) do_some(person, minute);
  }
}

/// Work that may not lie overnight is ended after hours.
bool Bench::at_bikes(std::size_t person, int minute) const {
  const std::vector<plan::Window>& windows = shifts_[person].windows;
  if (windows.empty()) return false;
  const Hands& hands = hands_[person];
  if (minute >= windows.back().to && hands.bike >= 0) {
    return !bikes_[at(hands.bike)].jobs[at(hands.job)].operation->may_pause_overnight;
  }
  return std::ranges::any_of(windows, [&](const plan::Window& window) {
    return window.from <= minute && minute < window.to;
  });
}

void Bench::do_some(std::size_t person, int minute) {
  Hands& hands = hands_[person];
  Job& job = bikes_[at(hands.bike)].jobs[at(hands.job)];
  const double done = kStep * shifts_[person].pace;
  job.expected = std::max(1.0, job.expected * std::max(0.0, 1 - done / std::max(job.left, 1e-9)));
  job.left -= done;
  if (job.left <= 0) end(person, minute + kStep);
}

void Bench::end(std::size_t person, int minute) {
  const int bike_place = hands_[person].bike;
  const int job_place = hands_[person].job;
  put_down(person);
  changed_ = minute;
  Bike& bike = bikes_[at(bike_place)];
  Job& job = bike.jobs[at(job_place)];
  job.left = job.expected = 0;
  job.ended = day_ * plan::kMinutesPerDay + minute +
              static_cast<int>(job.operation->unattended_minutes);
  bike.ready = std::max(bike.ready, job.ended);
  --bike.open;
}

/// Who found nothing looks again when something was ended, and every half hour.
void Bench::look_for_work(std::size_t person, int minute) {
  constexpr int kAgain = 30;
  Hands& hands = hands_[person];
  if (hands.in_vain >= changed_ && minute % kAgain != 0) return;
  hands.in_vain = find_job(person, minute) ? -1 : minute;
}

bool Bench::find_job(std::size_t person, int minute) {
  if (person < planned_.size()) {
    for (const auto& [bike, job] : planned_[person]) {
      if (!can_do(person, bikes_[at(bike)], at(job), minute)) continue;
      take(person, bike, at(job), minute);
      return true;
    }
  }
  for (const int place : turn_) {
    for (const std::size_t index : job_turn_[at(place)]) {
      if (!can_do(person, bikes_[at(place)], index, minute)) continue;
      take(person, place, index, minute);
      return true;
    }
  }
  return false;
}

void Bench::take(std::size_t person, int place, std::size_t index, int minute) {
  Bike& bike = bikes_[at(place)];
  Job& job = bike.jobs[index];
  job.in_hand = true;
  job.doer = static_cast<int>(person);
  if (job.operation->needs_bike_stand) bike.on_stand = true;
  if (bike.begun < 0 && bike.design->steps[index].asks_for_kit) {
    bike.begun = day_ * plan::kMinutesPerDay + minute;
  }
  --stands_free_[job.operation->area];
  hands_[person].bike = place;
  hands_[person].job = static_cast<int>(index);
  started_.push_back({place, static_cast<int>(index), static_cast<int>(person), day_});
}

bool Bench::can_do(std::size_t person, const Bike& bike, std::size_t place, int minute) const {
  const Job& job = bike.jobs[place];
  const trade::Operation& operation = *job.operation;
  const DesignStep& step = bike.design->steps[place];
  if (job.ended >= 0 || job.in_hand || (hands_[person].skills & step.skill) == 0) return false;
  if (step.asks_for_kit && !bike.kit_here) return false;
  if (operation.needs_bike_stand && bike.on_stand) return false;
  const int now = day_ * plan::kMinutesPerDay + minute;
  for (const int before : step.after) {
    const int ended = bike.jobs[at(before)].ended;
    if (ended < 0 || ended > now) return false;
  }
  if (step.asks_for_all && !bike.all_here) return false;
  for (const int checked : step.not_by_doer_of) {
    if (bike.jobs[at(checked)].doer == static_cast<int>(person)) return false;
  }
  if (!leaves_a_checker(person, bike, step)) return false;
  const auto stands = stands_free_.find(operation.area);
  if (stands == stands_free_.end() || stands->second == 0) return false;
  const Shift& shift = shifts_[person];
  const double today = (shift.windows.back().to - minute) * shift.pace * kTrusted;
  return operation.may_pause_overnight || job.expected <= today;
}

bool Bench::leaves_a_checker(std::size_t person, const Bike& bike,
                             const DesignStep& step) const {
  return std::ranges::all_of(step.checked_by, [&](int checker) {
    const DesignStep& check = bike.design->steps[at(checker)];
    for (std::size_t other = 0; other < hands_.size(); ++other) {
      const bool could = other != person && (hands_[other].skills & check.skill) != 0 &&
                         !shifts_[other].windows.empty();
      const bool did = std::ranges::any_of(check.not_by_doer_of, [&](int checked) {
        return bike.jobs[at(checked)].doer == static_cast<int>(other);
      });
      if (could && !did) return true;
    }
    return false;
  });
}

}  // namespace rollwright::bench
