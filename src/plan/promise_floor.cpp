#include <algorithm>
#include <bit>
#include <map>
#include <numeric>
#include <tuple>

#include "base/index.hpp"
#include "plan/promise_dispatch.hpp"
#include "plan/shop_plan.hpp"

/// What a dispatcher lays out once: the same in every draw.
namespace rollwright::plan {
namespace {

/// Lists per job, one after another in one vector.
template <class Item>
void pack(const std::vector<std::vector<Item>>& lists, std::vector<int>& from,
          std::vector<Item>& all) {
  from.push_back(0);
  for (const std::vector<Item>& list : lists) {
    all.insert(all.end(), list.begin(), list.end());
    from.push_back(static_cast<int>(all.size()));
  }
}

}  // namespace

Dispatcher::Dispatcher(const PlanInput& input)
    : input_(input),
      jobs_of_order_(input.orders.size()),
      ran_at_first_(input.tasks.size()),
      ready_({}, 0, 0) {
  const std::vector<int> sequence = take_up_order(input);
  job_of_.assign(input.tasks.size(), -1);
  for (std::size_t job = 0; job < sequence.size(); ++job) {
    job_of_[at(sequence[job])] = static_cast<int>(job);
  }
  add_workers(sequence);
  lending_ = bits_of(who_can_lend(input));
  for (const int task : sequence) add_job(task);
  add_links();
  add_groups();
}

/// Fewest skills first, so that the lowest bit of a set of people is the one to prefer.
void Dispatcher::add_workers(const std::vector<int>& sequence) {
  const auto skills_of = [&](int person) {
    return std::popcount(input_.people[at(person)].skills);
  };
  std::vector<int> people(input_.people.size());
  std::iota(people.begin(), people.end(), 0);
  std::ranges::stable_sort(people, {}, skills_of);
  bit_of_.resize(people.size());
  for (const int person : people) {
    bit_of_[at(person)] = static_cast<int>(workers_.size());
    workers_.push_back({.person = person,
                        .skills = skills_of(person),
                        .hours = static_cast<int>(hours_.size()),
                        .frozen = static_cast<int>(frozen_starts_.size())});
    for (const Window& window : input_.people[at(person)].hours) {
      hours_.push_back({window.from, window.to, window.from / kMinutesPerDay});
    }
    hours_.push_back({kNever, kNever, Hours::kNoDay});
    for (const int task : sequence) {  // frozen ones by their starts
      const Task& what = input_.tasks[at(task)];
      if (!is_frozen(input_, what)) break;
      const bool is_at_it = (people_at(what, *what.previous) & person_bit(person)) != 0;
      if (is_at_it) frozen_starts_.push_back(what.previous->start);
    }
    frozen_starts_.push_back(kNever);
  }
}

/// From people of the input to workers.
std::uint64_t Dispatcher::bits_of(std::uint64_t people) const {
  std::uint64_t bits = 0;
  for (; people != 0; people &= people - 1) bits |= 1ULL << bit_of_[at(std::countr_zero(people))];
  return bits;
}

void Dispatcher::add_job(int index) {
  const Task& task = input_.tasks[at(index)];
  Job job{.task = index,
          .order = task.order,
          .area = task.area,
          .unattended = task.unattended,
          .pause = pause_of(task),
          .hands = static_cast<std::uint8_t>(task.hands),
          .on_bike = task.on_bike,
          .frozen = is_frozen(input_, task),
          .second = !task.not_by_doer_of.empty()};
  Ran& ran = ran_at_first_[at(index)];
  ran.could_start = input_.now;
  if (job.frozen) {
    ran.could_start = task.previous->start;
    ran.because = Ran::kFrozenStart;
    job.pause = Pause::kAnywhere;  // where the last plan put it is not questioned
    frozen_jobs_.push_back(static_cast<int>(jobs_.size()));
  } else {
    for (const int part : task.parts) needed_parts_.push_back({index, part});
  }
  ++jobs_of_order_[at(task.order)];
  named_.push_back(job.frozen && job.hands > 1 ? bits_of(task.previous->lending) : 0);
  any_together_ |= job.hands > 1;
  jobs_.push_back(job);
}

void Dispatcher::add_links() {
  std::vector<std::vector<Link>> next(jobs_.size());
  std::vector<std::vector<int>> witnesses(jobs_.size());
  states_at_first_.resize(jobs_.size());
  for (std::size_t index = 0; index < jobs_.size(); ++index) {
    const int job = static_cast<int>(index);
    State& state = states_at_first_[index];
    const Task& task = input_.tasks[at(jobs_[index].task)];
    for (const int before : task.after) {
      if (job_of_[at(before)] < 0) continue;
      ++state.before;
      next[at(job_of_[at(before)])].push_back({job, jobs_[index].task});
    }
    if (state.before == 0) first_jobs_.push_back(job);
    for (const int other : task.not_by_doer_of) {
      const Task& first = input_.tasks[at(other)];
      if (job_of_[at(other)] >= 0) {
        witnesses[at(job_of_[at(other)])].push_back(job);
        if (!first.not_by_doer_of.empty()) ++state.nested;
      } else {
        if (first.done_by >= 0) state.doers |= 1ULL << bit_of_[at(first.done_by)];
        state.doers |= bits_of(first.done_lending);
      }
    }
  }
  pack(next, next_from_, next_);
  pack(witnesses, witness_from_, witness_);
  for (std::size_t job = 0; job < jobs_.size(); ++job) {
    jobs_[job].witnessed = !witnesses[job].empty();
  }
}

void Dispatcher::add_groups() {
  groups_in_.resize(input_.areas.size());
  std::map<std::tuple<std::uint64_t, std::uint64_t, int>, int> known;
  std::vector<ReadyJobs::Place> places;
  for (Job& job : jobs_) {
    const Task& task = input_.tasks[at(job.task)];
    std::uint64_t able = 0;
    if (job.frozen) {
      able = 1ULL << bit_of_[at(task.previous->person)];
    } else {
      able = bits_of(who_can(input_, task));
    }
    const std::uint64_t takers = job.hands > 1 ? able | lending_ : able;
    const auto [found, is_new] =
        known.try_emplace({able, takers, job.area}, static_cast<int>(groups_.size()));
    if (is_new) {
      groups_in_[at(job.area)].push_back(static_cast<int>(groups_.size()));
      groups_.push_back({able, takers, job.area});
    }
    job.group = found->second;
    places.push_back({job.group, job.on_bike ? job.order : -1});
  }
  ready_ = ReadyJobs(places, groups_.size(), input_.orders.size());
}

}  // namespace rollwright::plan
