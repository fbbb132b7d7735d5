#include "plan/promise_dispatch.hpp"

#include <algorithm>
#include <bit>
#include <map>
#include <numeric>

#include "base/index.hpp"
#include "plan/shop_plan.hpp"

namespace rollwright::plan {
namespace {

/// Lists per job, one after another in one vector.
void pack(const std::vector<std::vector<int>>& lists, std::vector<int>& from,
          std::vector<int>& all) {
  from.push_back(0);
  for (const std::vector<int>& list : lists) {
    all.insert(all.end(), list.begin(), list.end());
    from.push_back(static_cast<int>(all.size()));
  }
}

}  // namespace

Dispatcher::Dispatcher(const PlanInput& input) : input_(input) {
  add_workers();
  const std::vector<int> sequence = take_up_order(input);
  job_of_.assign(input.tasks.size(), -1);
  for (std::size_t job = 0; job < sequence.size(); ++job) {
    job_of_[at(sequence[job])] = static_cast<int>(job);
  }
  for (const int task : sequence) add_job(task);
  add_links();
  add_groups();
}

/// Fewest skills first, so that the lowest bit of a set of people is the one to prefer.
void Dispatcher::add_workers() {
  const auto skills_of = [&](int person) {
    return std::popcount(input_.people[at(person)].skills);
  };
  std::vector<int> people(input_.people.size());
  std::iota(people.begin(), people.end(), 0);
  std::ranges::stable_sort(people, {}, skills_of);
  bit_of_.resize(people.size());
  for (const int person : people) {
    bit_of_[at(person)] = static_cast<int>(workers_.size());
    Worker worker{.person = person, .skills = skills_of(person)};
    for (const Window& window : input_.people[at(person)].hours) {
      worker.hours.push_back({window.from, window.to, window.from / kMinutesPerDay});
    }
    workers_.push_back(std::move(worker));
  }
}

void Dispatcher::add_job(int index) {
  const Task& task = input_.tasks[at(index)];
  Job job{.task = index,
          .order = task.order,
          .area = task.area,
          .unattended = task.unattended,
          .on_bike = task.on_bike,
          .frozen = is_frozen(input_, task),
          .second = !task.not_by_doer_of.empty(),
          .pause = task.pause,
          .could_start = input_.now};
  for (std::uint64_t able = who_can(input_, task); able != 0; able &= able - 1) {
    job.able |= 1ULL << bit_of_[at(std::countr_zero(able))];
  }
  if (job.frozen) {
    const int bit = bit_of_[at(task.previous->person)];
    std::vector<int>& starts = workers_[at(bit)].frozen_starts;
    starts.insert(std::ranges::upper_bound(starts, task.previous->start), task.previous->start);
    job.able = 1ULL << bit;
    job.could_start = task.previous->start;
    job.pause = Pause::kAnywhere;  // where the last plan put it is not questioned
  }
  jobs_.push_back(job);
}

void Dispatcher::add_links() {
  std::vector<std::vector<int>> next(jobs_.size());
  std::vector<std::vector<int>> witnesses(jobs_.size());
  for (std::size_t index = 0; index < jobs_.size(); ++index) {
    Job& job = jobs_[index];
    const Task& task = input_.tasks[at(job.task)];
    for (const int before : task.after) {
      if (job_of_[at(before)] < 0) continue;
      ++job.before;
      next[at(job_of_[at(before)])].push_back(static_cast<int>(index));
    }
    for (const int other : task.not_by_doer_of) {
      const Task& first = input_.tasks[at(other)];
      if (job_of_[at(other)] >= 0) {
        witnesses[at(job_of_[at(other)])].push_back(static_cast<int>(index));
        if (!first.not_by_doer_of.empty()) ++job.nested;
      } else if (first.done_by >= 0) {
        job.done_by |= 1ULL << bit_of_[at(first.done_by)];
      }
    }
    parts_.push_back(task.parts);
  }
  pack(next, next_from_, next_);
  pack(witnesses, witness_from_, witness_);
}

void Dispatcher::add_groups() {
  std::map<std::pair<std::uint64_t, int>, int> known;
  for (std::size_t index = 0; index < jobs_.size(); ++index) {
    Job& job = jobs_[index];
    const auto [found, is_new] =
        known.try_emplace({job.able, job.area}, static_cast<int>(groups_.size()));
    if (is_new) groups_.push_back({.able = job.able, .area = job.area});
    Group& group = groups_[at(found->second)];
    job.group = found->second;
    job.place = static_cast<int>(group.jobs.size());
    group.jobs.push_back(static_cast<int>(index));
  }
  for (const Group& group : groups_) {
    ready_.emplace_back((group.jobs.size() + 63) / 64);
    group_able_.push_back(group.able);
    group_area_.push_back(group.area);
  }
}

int Dispatcher::run(const DrawSource& source, const Draw& draw, std::span<const int> wanted_orders,
                    std::vector<Ran>& ran) {
  source_ = &source;
  draw_ = &draw;
  reset(draw, wanted_orders, ran);
  while (wanted_left_ > 0 && next_minute(now_)) {
    while (!heap_.empty() && static_cast<int>(heap_.front() >> 32) == now_) {
      const auto low = static_cast<std::uint32_t>(heap_.front());
      std::ranges::pop_heap(heap_, std::greater{});
      heap_.pop_back();
      happen(static_cast<int>(low >> 2), static_cast<Kind>(low & 3), ran);
    }
    wake_ = kNever;
    if (ready_count_ > 0) {
      hand_out(ran);
      if (ready_count_ > 0) set_wake();
    }
  }
  return started_;
}

void Dispatcher::reset(const Draw& draw, std::span<const int> wanted, std::vector<Ran>& ran) {
  ran.assign(input_.tasks.size(), {});
  wanted_.assign(input_.orders.size(), wanted.empty() ? 1 : 0);
  for (const int order : wanted) wanted_[at(order)] = 1;
  now_ = 0;
  wake_ = kNever;
  ready_count_ = wanted_left_ = started_ = 0;
  idle_ = workers_.size() == 64 ? ~0ULL : (1ULL << workers_.size()) - 1;
  heap_.clear();
  first_ready_.assign(groups_.size(), kNever);
  for (std::vector<std::uint64_t>& ready : ready_) std::ranges::fill(ready, 0);
  for (Worker& worker : workers_) {
    worker.at = worker.next_frozen = 0;
    worker.rate = -1;
    worker.free_since = 0;
  }
  stands_free_.clear();
  for (const Area& area : input_.areas) stands_free_.push_back(area.stands);
  stand_freed_.assign(input_.areas.size(), -1);
  bike_task_.assign(input_.orders.size(), -1);
  bike_ended_.assign(input_.orders.size(), -1);
  parked_.resize(input_.orders.size());
  for (std::vector<int>& jobs : parked_) jobs.clear();
  before_left_.resize(jobs_.size());
  doers_.resize(jobs_.size());
  nested_left_.resize(jobs_.size());
  worker_of_.assign(jobs_.size(), -1);
  for (std::size_t index = 0; index < jobs_.size(); ++index) {
    const Job& job = jobs_[index];
    before_left_[index] = job.before;
    doers_[index] = job.done_by;
    nested_left_[index] = job.nested;
    wanted_left_ += wanted_[at(job.order)];
    Ran& own = ran[at(job.task)];
    own.could_start = job.could_start;
    own.because = job.frozen ? Ran::kFrozenStart : Ran::kNow;
    for (const int part : parts_[index]) {
      if (job.frozen || draw.in_hand[at(part)] <= own.could_start) continue;
      own.could_start = draw.in_hand[at(part)];
      own.because = Ran::kFirstArrival - part;
    }
    if (draw.comes[at(job.order)] == 0) continue;  // its first tasks are never ready
    if (job.before == 0) push(own.could_start, static_cast<int>(index), kReady);
    // Whoever kept free for a frozen start is free for other work from then on.
    if (job.frozen) push(job.could_start, static_cast<int>(index), kLook);
  }
}

void Dispatcher::push(int minute, int job, Kind kind) {
  if (minute >= kNever) return;  // past the horizon: it never happens
  heap_.push_back(static_cast<std::uint64_t>(minute) << 32 | static_cast<std::uint64_t>(job) << 2 |
                  static_cast<std::uint64_t>(kind));
  std::ranges::push_heap(heap_, std::greater{});
}

bool Dispatcher::next_minute(int& minute) {
  const int event = heap_.empty() ? kNever : static_cast<int>(heap_.front() >> 32);
  minute = std::min(event, wake_);
  return minute < kNever;
}

void Dispatcher::happen(int index, Kind kind, std::vector<Ran>& ran) {
  const Job& job = jobs_[at(index)];
  if (kind == kLook) return;
  if (kind == kReady) {
    set_ready(index);
    return;
  }
  const int worker = worker_of_[at(index)];
  idle_ |= 1ULL << worker;
  workers_[at(worker)].free_since = now_;
  if (stands_free_[at(job.area)]++ == 0) stand_freed_[at(job.area)] = now_;
  if (job.on_bike) {
    bike_ended_[at(job.order)] = now_;
    for (const int waiting : parked_[at(job.order)]) set_ready(waiting);
    parked_[at(job.order)].clear();
  }
  wanted_left_ -= wanted_[at(job.order)];
  const int over = now_ + job.unattended;
  for (int link = next_from_[at(index)]; link < next_from_[at(index) + 1]; ++link) {
    const int after = next_[at(link)];
    Ran& its = ran[at(jobs_[at(after)].task)];
    if (over > its.could_start) {
      its.could_start = over;
      its.because = job.task;
    }
    if (--before_left_[at(after)] > 0) continue;
    if (its.could_start <= now_) {
      set_ready(after);
    } else {
      push(its.could_start, after, kReady);
    }
  }
}

void Dispatcher::set_ready(int job) {
  const Job& what = jobs_[at(job)];
  ready_[at(what.group)][at(what.place) / 64] |= 1ULL << (what.place % 64);
  first_ready_[at(what.group)] = std::min(first_ready_[at(what.group)], job);
  ++ready_count_;
}

void Dispatcher::clear_ready(int job) {
  const Job& what = jobs_[at(job)];
  std::vector<std::uint64_t>& ready = ready_[at(what.group)];
  ready[at(what.place) / 64] &= ~(1ULL << (what.place % 64));
  --ready_count_;
  int& first = first_ready_[at(what.group)];
  if (first != job) return;
  first = kNever;
  for (std::size_t word = at(what.place) / 64; word < ready.size(); ++word) {
    if (ready[word] == 0) continue;
    first = groups_[at(what.group)].jobs[word * 64 + at(std::countr_zero(ready[word]))];
    break;
  }
}

void Dispatcher::hand_out(std::vector<Ran>& ran) {
  see_who_is_free();
  refused_.clear();
  for (int job = first_startable(); job >= 0; job = first_startable()) {
    const Job& what = jobs_[at(job)];
    clear_ready(job);
    if (what.on_bike && bike_ended_[at(what.order)] == kNever) {
      parked_[at(what.order)].push_back(job);
    } else if (!try_start(job, ran)) {
      refused_.push_back(job);  // for this minute: what is free only gets less within it
    }
  }
  for (const int job : refused_) set_ready(job);
}

void Dispatcher::see_who_is_free() {
  free_ = 0;
  for (std::uint64_t left = idle_; left != 0; left &= left - 1) {
    const int bit = std::countr_zero(left);
    Worker& worker = workers_[at(bit)];
    while (worker.at < worker.hours.size()) {
      const Hours& hours = worker.hours[worker.at];
      if (hours.to > now_) {
        if (worker.rate < 0) worker.rate = rate_of(worker, hours.day);
        if (worker.rate > 0) break;
      }
      const int day = hours.day;
      ++worker.at;
      if (worker.at < worker.hours.size() && worker.hours[worker.at].day != day) worker.rate = -1;
    }
    const bool at_work =
        worker.at < worker.hours.size() && worker.hours[worker.at].from <= now_;
    if (at_work) free_ |= 1ULL << bit;
  }
}

/// First in take-up order among the heads of groups that somebody free could do on a free stand.
int Dispatcher::first_startable() const {
  int first = kNever;
  if (free_ == 0) return -1;
  for (std::size_t group = 0; group < first_ready_.size(); ++group) {
    const bool could = (group_able_[group] & free_) != 0 && stands_free_[at(group_area_[group])] > 0;
    first = std::min(first, could ? first_ready_[group] : kNever);
  }
  return first < kNever ? first : -1;
}

bool Dispatcher::try_start(int job, std::vector<Ran>& ran) {
  const Job& what = jobs_[at(job)];
  const int work = draw_->work[at(what.task)];
  int end_of[64];
  int soonest = kNever;
  std::uint64_t fitting = 0;
  for (std::uint64_t left = allowed(job); left != 0; left &= left - 1) {
    const int bit = std::countr_zero(left);
    const int end = ends(workers_[at(bit)], work, what.pause);
    if (end < 0) continue;
    if (!what.frozen) {
      Worker& worker = workers_[at(bit)];
      const std::vector<int>& frozen = worker.frozen_starts;
      while (worker.next_frozen < frozen.size() && frozen[worker.next_frozen] <= now_) {
        ++worker.next_frozen;
      }
      if (worker.next_frozen < frozen.size() && end > frozen[worker.next_frozen]) continue;
    }
    end_of[bit] = end;
    soonest = std::min(soonest, end);
    fitting |= 1ULL << bit;
  }
  int best = -1;
  for (std::uint64_t left = fitting; left != 0; left &= left - 1) {
    const int bit = std::countr_zero(left);
    if (end_of[bit] > soonest + kDispatchPatience) continue;
    const bool as_few = best >= 0 && workers_[at(bit)].skills == workers_[at(best)].skills;
    if (best < 0 || (as_few && end_of[bit] < end_of[best])) best = bit;
  }
  if (best < 0) return false;
  start(job, best, end_of[best], ran);
  return true;
}

std::uint64_t Dispatcher::allowed(int job) const {
  const Job& what = jobs_[at(job)];
  std::uint64_t people = what.able & free_ & ~doers_[at(job)];
  if (what.frozen) return people;  // nobody else may have it
  for (int link = witness_from_[at(job)]; link < witness_from_[at(job) + 1]; ++link) {
    const int witness = witness_[at(link)];
    const std::uint64_t left = jobs_[at(witness)].able & ~doers_[at(witness)];
    // Second persons it must differ from, still to come, will each use up one more.
    const int needed = 1 + nested_left_[at(witness)] - (what.second ? 1 : 0);
    if (std::popcount(left) <= needed) people &= ~left;
  }
  return people;
}

/// Minute at which the worker, starting now, ends the work; -1 when a pause forbids it.
int Dispatcher::ends(Worker& worker, int work, Pause pause) {
  int from = now_;
  int rate = worker.rate;
  for (std::size_t next = worker.at;;) {
    const Hours& hours = worker.hours[next];
    if (rate > 0) {
      const int room = (hours.to - from) * rate;
      if (work <= room) return from + (work + rate - 1) / rate;
      work -= room;
    }
    if (pause == Pause::kNever || ++next == worker.hours.size()) return -1;
    if (worker.hours[next].day != hours.day) {
      if (pause == Pause::kWithinDay) return -1;
      rate = rate_of(worker, worker.hours[next].day);
    }
    from = worker.hours[next].from;
  }
}

void Dispatcher::start(int job, int bit, int end, std::vector<Ran>& ran) {
  const Job& what = jobs_[at(job)];
  Worker& worker = workers_[at(bit)];
  Ran& own = ran[at(what.task)];
  own.start = now_;
  // Work that runs now has not ended yet, however lucky the draw.
  own.end = std::max(end, input_.now);
  if (what.on_bike && bike_task_[at(what.order)] >= 0 &&
      bike_ended_[at(what.order)] > own.could_start) {
    own.bike_before = bike_task_[at(what.order)];
  }
  find_wait(what, worker, own);
  idle_ &= ~(1ULL << bit);
  free_ &= ~(1ULL << bit);
  worker_of_[at(job)] = bit;
  --stands_free_[at(what.area)];
  if (what.on_bike) {
    bike_task_[at(what.order)] = what.task;
    bike_ended_[at(what.order)] = kNever;
  }
  for (int link = witness_from_[at(job)]; link < witness_from_[at(job) + 1]; ++link) {
    doers_[at(witness_[at(link)])] |= 1ULL << bit;
    nested_left_[at(witness_[at(link)])] -= what.second ? 1 : 0;
  }
  push(own.end, job, kEnds);
  ++started_;
}

void Dispatcher::find_wait(const Job& job, const Worker& worker, Ran& own) const {
  const int able =
      own.bike_before == Ran::kNothing ? own.could_start : bike_ended_[at(job.order)];
  if (able >= now_) return;
  own.wait = worker.free_since > able ? HoldKind::kPeople : HoldKind::kHours;
  if (stand_freed_[at(job.area)] != now_) return;
  // The stand held it only if somebody who can do it stood idle until it came free.
  for (std::uint64_t left = free_ & job.able; left != 0; left &= left - 1) {
    const Worker& other = workers_[at(std::countr_zero(left))];
    if (other.free_since < now_ && other.hours[other.at].from < now_) own.wait = HoldKind::kStand;
  }
}

/// Next opening of hours of anybody idle: from then on something may start.
void Dispatcher::set_wake() {
  for (std::uint64_t left = idle_; left != 0; left &= left - 1) {
    const Worker& worker = workers_[at(std::countr_zero(left))];
    std::size_t next = worker.at;
    while (next < worker.hours.size() && worker.hours[next].from <= now_) ++next;
    if (next < worker.hours.size()) wake_ = std::min(wake_, worker.hours[next].from);
  }
}

int Dispatcher::rate_of(const Worker& worker, int day) const {
  return source_->rate(*draw_, worker.person, day);
}

}  // namespace rollwright::plan
