#include "plan/promise_dispatch.hpp"

#include <algorithm>
#include <array>
#include <bit>
#include <functional>

#include "base/index.hpp"

namespace rollwright::plan {
namespace {

constexpr std::uint32_t kNoJob = ~0U;         // of an event that only wants a look
constexpr std::uint32_t kReadyNow = kNoJob - 1;  // all those that are ready now
constexpr int kWorkerBits = 6;
constexpr int kNoneStarts = 1 << 30;  // beyond every job, and beyond kNever
static_assert(kNoneStarts > kNever);

std::uint64_t event(int minute, std::uint32_t what) {
  return static_cast<std::uint64_t>(minute) << 32 | what;
}

constexpr std::uint64_t kNoEnd = static_cast<std::uint64_t>(kNever) << 32;
constexpr std::size_t kLanes = 4;

std::uint64_t lesser(std::uint64_t a, std::uint64_t b) { return b < a ? b : a; }

/// Side by side, so that one need not wait for the other. The size is a multiple of kLanes.
std::uint64_t least_of(const std::vector<std::uint64_t>& events) {
  std::uint64_t a = kNoEnd;
  std::uint64_t b = kNoEnd;
  for (std::size_t from = 0; from < events.size(); from += kLanes) {
    a = lesser(a, lesser(events[from], events[from + 1]));
    b = lesser(b, lesser(events[from + 2], events[from + 3]));
  }
  return lesser(a, b);
}

int minute_of(std::uint64_t event) { return static_cast<int>(event >> 32); }

}  // namespace

int Dispatcher::run(const DrawSource& source, const Draw& draw, std::span<const int> wanted_orders,
                    std::vector<Ran>& ran) {
  source_ = &source;
  draw_ = &draw;
  reset(wanted_orders, ran);
  while (wanted_left_ > 0 && to_next_minute()) {
    while (minute_of(next_end_) == now_) end_one(ran);
    while (!later_.empty() && minute_of(later_.front()) == now_) see_one_ready();
    wake_ = kNever;
    if (idle_ == 0) continue;
    hand_out(ran);
    if (idle_ != 0 && ready_.any()) set_wake();
  }
  return started_;
}

void Dispatcher::reset(std::span<const int> wanted, std::vector<Ran>& ran) {
  wanted_.assign(input_.orders.size(), wanted.empty() ? 1 : 0);
  for (const int order : wanted) wanted_[at(order)] = 1;
  wanted_left_ = started_ = 0;
  for (std::size_t order = 0; order < wanted_.size(); ++order) {
    if (wanted_[order] != 0) wanted_left_ += jobs_of_order_[order];
  }
  wake_ = hours_change_ = kNever;
  free_ = 0;
  idle_ = just_idle_ = workers_.size() == 64 ? ~0ULL : (1ULL << workers_.size()) - 1;
  for (Worker& worker : workers_) {
    worker.at = worker.hours;
    worker.next_frozen = worker.frozen;
    worker.rate = -1;
    worker.free_since = 0;
  }
  stands_free_.clear();
  for (const Area& area : input_.areas) stands_free_.push_back(area.stands);
  stand_freed_.assign(input_.areas.size(), -1);
  takers_.clear();
  for (const Group& group : groups_) takers_.push_back(group.takers);
  bike_task_.assign(input_.orders.size(), -1);
  bike_ended_.assign(input_.orders.size(), -1);
  states_ = states_at_first_;
  kept_ = 0;
  if (any_together_) {
    lent_.assign(workers_.size(), 0);
    kept_from_.assign(workers_.size(), 0);
    lacked_hands_.assign(jobs_.size(), 0);
  }
  ready_.clear();
  running_.assign((workers_.size() + kLanes - 1) / kLanes * kLanes, kNoEnd);
  next_end_ = kNoEnd;
  later_.clear();
  ready_now_.clear();
  ran = ran_at_first_;
  for (const auto& [task, part] : needed_parts_) {
    Ran& own = ran[at(task)];
    if (draw_->in_hand[at(part)] <= own.could_start) continue;
    own.could_start = draw_->in_hand[at(part)];
    own.because = Ran::kFirstArrival - part;
  }
  // The first tasks of an order that does not come are never ready.
  const auto comes = [&](int job) { return draw_->comes[at(jobs_[at(job)].order)] != 0; };
  for (const int job : first_jobs_) {
    const int minute = ran[at(jobs_[at(job)].task)].could_start;
    if (!comes(job) || minute >= kNever) continue;  // past the horizon it never happens
    if (minute == input_.now) {
      ready_now_.push_back(job);
    } else {
      later_.push_back(event(minute, static_cast<unsigned>(job)));
    }
  }
  if (!ready_now_.empty()) later_.push_back(event(input_.now, kReadyNow));
  // Whoever kept free for a frozen start is free for other work from then on.
  for (const int job : frozen_jobs_) {
    const int minute = ran[at(jobs_[at(job)].task)].could_start;
    if (comes(job)) later_.push_back(event(minute, kNoJob));
  }
  std::ranges::make_heap(later_, std::greater{});
}

bool Dispatcher::to_next_minute() {
  now_ = std::min(wake_, minute_of(next_end_));
  if (!later_.empty()) now_ = std::min(now_, minute_of(later_.front()));
  return now_ < kNever;
}

void Dispatcher::see_one_ready() {
  const auto job = static_cast<std::uint32_t>(later_.front());
  std::ranges::pop_heap(later_, std::greater{});
  later_.pop_back();
  if (job < kReadyNow) ready_.add(static_cast<int>(job));
  if (job != kReadyNow) return;
  for (const int first : ready_now_) ready_.add(first);
}

void Dispatcher::end_one(std::vector<Ran>& ran) {
  const auto what = static_cast<std::uint32_t>(next_end_);
  const std::size_t index = what >> kWorkerBits;
  const std::uint32_t worker = what & ((1U << kWorkerBits) - 1);
  running_[worker] = kNoEnd;
  next_end_ = least_of(running_);
  const Job& job = jobs_[index];
  idle_ |= 1ULL << worker;
  just_idle_ |= 1ULL << worker;
  workers_[worker].free_since = now_;
  if (job.hands > 1) free_lent(static_cast<int>(worker));
  if (stands_free_[at(job.area)]++ == 0) {
    stand_freed_[at(job.area)] = now_;
    see_stands(job.area);
  }
  if (job.on_bike) {
    bike_ended_[at(job.order)] = now_;
    ready_.free_bike(job.order);
  }
  wanted_left_ -= wanted_[at(job.order)];
  const int over = now_ + job.unattended;
  for (int link = next_from_[index]; link < next_from_[index + 1]; ++link) {
    const Link after = next_[at(link)];
    Ran& its = ran[at(after.task)];
    const bool held = over > its.could_start;
    its.because = held ? job.task : its.because;
    its.could_start = held ? over : its.could_start;
    if (--states_[at(after.job)].before > 0) continue;
    if (its.could_start <= now_) {
      ready_.add(after.job);
    } else if (its.could_start < kNever) {  // else past the horizon: it never happens
      later_.push_back(event(its.could_start, static_cast<unsigned>(after.job)));
      std::ranges::push_heap(later_, std::greater{});
    }
  }
}

void Dispatcher::hand_out(std::vector<Ran>& ran) {
  see_who_is_free();
  kept_ = 0;
  refused_.clear();
  for (int job = first_startable(); job < kNever; job = first_startable()) {
    if (try_start(job, ran)) continue;
    ready_.remove(job);
    refused_.push_back(job);  // for this minute: what is free only gets less within it
  }
  for (const int job : refused_) ready_.add(job);
}

/// Looks at those who have just ended something, and at all who idle when hours of one of them begin
/// or end.
void Dispatcher::see_who_is_free() {
  if (hours_change_ <= now_) {
    just_idle_ = idle_;
    hours_change_ = kNever;
  }
  for (std::uint64_t left = just_idle_; left != 0; left &= left - 1) {
    const int bit = std::countr_zero(left);
    Worker& worker = workers_[at(bit)];
    while (true) {
      const Hours& hours = hours_[at(worker.at)];
      if (hours.to > now_) {
        if (worker.rate < 0) worker.rate = rate_of(worker, hours.day);
        if (worker.rate > 0) break;
      }
      ++worker.at;
      if (hours_[at(worker.at)].day != hours.day) worker.rate = -1;
    }
    const Hours& hours = hours_[at(worker.at)];
    const bool at_work = hours.from <= now_;
    free_ = (free_ & ~(1ULL << bit)) | static_cast<std::uint64_t>(at_work) << bit;
    hours_change_ = std::min(hours_change_, at_work ? hours.to : hours.from);
  }
  just_idle_ = 0;
}

/// The first in take-up order that somebody free could do on a free stand.
int Dispatcher::first_startable() const {
  int first = kNever;
  if (free_ == 0) return first;
  const std::span<const int> first_of = ready_.first();
  const std::span<const std::uint64_t> with_any = ready_.groups_with_any();
  for (std::size_t word = 0; word < with_any.size(); ++word) {
    for (std::uint64_t left = with_any[word]; left != 0; left &= left - 1) {
      const std::size_t group = word * 64 + at(std::countr_zero(left));
      // Without a branch, for nobody could foresee which way it goes.
      const int nobody = -static_cast<int>((takers_[group] & free_) == 0);
      const int job = first_of[group] | (nobody & kNoneStarts);
      first = job < first ? job : first;
    }
  }
  return first;
}

void Dispatcher::see_stands(int area) {
  const bool any_free = stands_free_[at(area)] > 0;
  for (const int group : groups_in_[at(area)]) {
    takers_[at(group)] = any_free ? groups_[at(group)].takers : 0;
  }
}

bool Dispatcher::try_start(int job, std::vector<Ran>& ran) {
  const Job& what = jobs_[at(job)];
  if (what.hands > 1) return try_start_together(job, ran);
  const int work = draw_->work[at(what.task)];
  std::array<int, 64> end_of;
  int soonest = kNever;
  std::uint64_t fitting = 0;
  for (std::uint64_t left = allowed(job, free_); left != 0; left &= left - 1) {
    const int bit = std::countr_zero(left);
    Worker& worker = workers_[at(bit)];
    const int end = ends(worker, work, what.pause);
    if (end < 0) continue;
    if (!what.frozen) {
      while (frozen_starts_[at(worker.next_frozen)] <= now_) ++worker.next_frozen;
      if (end > frozen_starts_[at(worker.next_frozen)]) continue;
      if ((kept_ >> bit & 1) != 0 && end > kept_from_[at(bit)]) continue;
    }
    end_of[at(bit)] = end;
    soonest = std::min(soonest, end);
    fitting |= 1ULL << bit;
  }
  int best = -1;
  for (std::uint64_t left = fitting; left != 0; left &= left - 1) {
    const int bit = std::countr_zero(left);
    if (end_of[at(bit)] > soonest + kDispatchPatience) continue;
    const bool as_few = best >= 0 && workers_[at(bit)].skills == workers_[at(best)].skills;
    if (best < 0 || (as_few && end_of[at(bit)] < end_of[at(best)])) best = bit;
  }
  if (best < 0) return false;
  start(job, {best, end_of[at(best)]}, ran);
  return true;
}

std::uint64_t Dispatcher::allowed(int job, std::uint64_t among) const {
  const Job& what = jobs_[at(job)];
  std::uint64_t people = groups_[at(what.group)].able & among;
  if (what.second) people &= ~states_[at(job)].doers;
  if (what.frozen || !what.witnessed) return people;  // a frozen one nobody else may have
  for (int link = witness_from_[at(job)]; link < witness_from_[at(job) + 1]; ++link) {
    const int witness = witness_[at(link)];
    const State& state = states_[at(witness)];
    const std::uint64_t left = groups_[at(jobs_[at(witness)].group)].able & ~state.doers;
    // Second persons it must differ from, still to come, will each use up one more.
    const int needed = 1 + state.nested - (what.second ? 1 : 0);
    if (std::popcount(left) <= needed) people &= ~left;
  }
  return people;
}

/// Minute at which the worker, starting now, ends the work; -1 when a pause forbids it.
int Dispatcher::ends(const Worker& worker, int work, Pause pause) const {
  int from = now_;
  int rate = worker.rate;
  for (std::size_t next = at(worker.at);;) {
    const Hours& hours = hours_[next];
    if (rate > 0) {
      const int room = (hours.to - from) * rate;
      if (work <= room) return from + (work + rate - 1) / rate;
      work -= room;
    }
    if (pause == Pause::kNever || hours_[++next].day == Hours::kNoDay) return -1;
    if (hours_[next].day != hours.day) {
      if (pause == Pause::kWithinDay) return -1;
      rate = rate_of(worker, hours_[next].day);
    }
    from = hours_[next].from;
  }
}

/// Busy from now on.
void Dispatcher::take(int bit, int end) {
  idle_ &= ~(1ULL << bit);
  free_ &= ~(1ULL << bit);
  workers_[at(bit)].busy_until = end;
}

void Dispatcher::start(int job, const Choice& choice, std::vector<Ran>& ran) {
  const Job& what = jobs_[at(job)];
  const int bit = choice.bit;
  const Worker& worker = workers_[at(bit)];
  Ran& own = ran[at(what.task)];
  own.start = now_;
  // Work that runs now has not ended yet, however lucky the draw.
  own.end = std::max(choice.end, input_.now);
  const bool waited_for_bike = what.on_bike && bike_ended_[at(what.order)] > own.could_start;
  own.bike_before = waited_for_bike ? bike_task_[at(what.order)] : Ran::kNothing;
  find_wait(what, worker, own);
  take(bit, own.end);
  if (what.hands > 1) {
    if (lacked_hands_[at(job)] != 0) own.wait = HoldKind::kHands;
    lent_[at(bit)] = choice.lending;
    for (std::uint64_t left = choice.lending; left != 0; left &= left - 1) {
      take(std::countr_zero(left), own.end);
    }
  }
  ready_.start(job);
  if (--stands_free_[at(what.area)] == 0) see_stands(what.area);
  if (what.on_bike) {
    bike_task_[at(what.order)] = what.task;
    bike_ended_[at(what.order)] = kNever;
  }
  for (int link = witness_from_[at(job)];
       what.witnessed && link < witness_from_[at(job) + 1]; ++link) {
    State& witness = states_[at(witness_[at(link)])];
    witness.doers |= 1ULL << bit | choice.lending;
    witness.nested -= what.second ? 1 : 0;
  }
  // Of what ends in the same minute, the first in take-up order ends first.
  running_[at(bit)] =
      event(own.end, static_cast<unsigned>(job) << kWorkerBits | static_cast<unsigned>(bit));
  next_end_ = std::min(next_end_, running_[at(bit)]);
  ++started_;
}

void Dispatcher::find_wait(const Job& job, const Worker& worker, Ran& own) const {
  const int able =
      own.bike_before == Ran::kNothing ? own.could_start : bike_ended_[at(job.order)];
  const bool was_there = worker.free_since <= able;
  own.wait = able < now_ && was_there ? HoldKind::kHours : HoldKind::kPeople;
  if (able >= now_ || stand_freed_[at(job.area)] != now_) return;
  // The stand held it only if somebody who can do it stood idle until it came free.
  for (std::uint64_t left = free_ & groups_[at(job.group)].able; left != 0; left &= left - 1) {
    const Worker& other = workers_[at(std::countr_zero(left))];
    if (other.free_since < now_ && hours_[at(other.at)].from < now_) own.wait = HoldKind::kStand;
  }
}

/// Next opening of hours of anybody idle: from then on something may start.
void Dispatcher::set_wake() {
  for (std::uint64_t left = idle_; left != 0; left &= left - 1) {
    int next = workers_[at(std::countr_zero(left))].at;
    while (hours_[at(next)].from <= now_) ++next;
    wake_ = std::min(wake_, hours_[at(next)].from);
  }
}

int Dispatcher::rate_of(const Worker& worker, int day) const {
  return day == Hours::kNoDay ? 1 : source_->rate(*draw_, worker.person, day);
}

}  // namespace rollwright::plan
