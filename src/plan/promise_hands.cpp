#include <algorithm>
#include <array>
#include <bit>

#include "base/index.hpp"
#include "plan/promise_dispatch.hpp"

/// Work of several pairs of hands in a draw.
namespace rollwright::plan {
namespace {

/// Nobody makes an appointment for later than this: until then much may change.
constexpr int kFarthestAppointment = 7 * kMinutesPerDay;

}  // namespace

void Dispatcher::free_lent(int bit) {
  for (std::uint64_t left = lent_[at(bit)]; left != 0; left &= left - 1) {
    workers_[at(std::countr_zero(left))].free_since = now_;
  }
  idle_ |= lent_[at(bit)];
  just_idle_ |= lent_[at(bit)];
  lent_[at(bit)] = 0;
}

bool Dispatcher::try_start_together(int job, std::vector<Ran>& ran) {
  const Job& what = jobs_[at(job)];
  const int work = draw_->work[at(what.task)];
  std::array<Choice, 64> choices;
  std::size_t count = 0;
  int soonest = kNever;
  for (std::uint64_t left = allowed(job, free_); left != 0; left &= left - 1) {
    const int bit = std::countr_zero(left);
    const int end = ends(workers_[at(bit)], work, what.pause);
    if (end < 0 || !stays_until(bit, end, what.frozen)) continue;
    const std::uint64_t lending = lend(job, bit, end);
    if (lending == 0) {
      lacked_hands_[at(job)] = 1;
      continue;
    }
    soonest = std::min(soonest, end);
    choices[count++] = {bit, end, lending};
  }
  Choice best;
  for (std::size_t index = 0; index < count; ++index) {
    const Choice& choice = choices[index];
    if (choice.end > soonest + kDispatchPatience) continue;
    const bool as_few =
        best.bit >= 0 && workers_[at(choice.bit)].skills == workers_[at(best.bit)].skills;
    if (best.bit < 0 || (as_few && choice.end < best.end)) best = choice;
  }
  if (best.bit >= 0) {
    start(job, best, ran);
    return true;
  }
  if (!what.frozen) keep_appointment(job);
  return false;
}

/// Anybody with a skill, but for whom a second person's task will need.
std::uint64_t Dispatcher::may_lend(int job, int doer) const {
  const Job& what = jobs_[at(job)];
  std::uint64_t people = lending_;
  for (int link = witness_from_[at(job)]; link < witness_from_[at(job) + 1]; ++link) {
    const int witness = witness_[at(link)];
    const State& state = states_[at(witness)];
    const std::uint64_t left =
        groups_[at(jobs_[at(witness)].group)].able & ~state.doers & ~(1ULL << doer);
    const int needed = 1 + state.nested - (what.second ? 1 : 0);
    if (std::popcount(left) < needed + what.hands - 1) people &= ~left;
  }
  return (people | named_[at(job)]) & ~(1ULL << doer);
}

bool Dispatcher::stays_until(int bit, int end, bool frozen) {
  if (frozen) return true;
  Worker& worker = workers_[at(bit)];
  while (frozen_starts_[at(worker.next_frozen)] <= now_) ++worker.next_frozen;
  if (end > frozen_starts_[at(worker.next_frozen)]) return false;
  return (kept_ >> bit & 1) == 0 || end <= kept_from_[at(bit)];
}

/// As many as it takes of those who are free until then; nobody when there are not so many.
std::uint64_t Dispatcher::lend(int job, int doer, int end) {
  const Job& what = jobs_[at(job)];
  const std::uint64_t people = may_lend(job, doer) & free_;
  std::uint64_t taken = 0;
  int wanted = what.hands - 1;
  for (const std::uint64_t from : {people & named_[at(job)], people & ~named_[at(job)]}) {
    for (std::uint64_t left = from; left != 0 && wanted > 0; left &= left - 1) {
      const int bit = std::countr_zero(left);
      // By a frozen start they are at it whatever it takes.
      const bool is_there = what.frozen || hours_[at(workers_[at(bit)].at)].to >= end;
      if (!is_there || !stays_until(bit, end, what.frozen)) continue;
      taken |= 1ULL << bit;
      --wanted;
    }
  }
  return wanted == 0 ? taken : 0;
}

void Dispatcher::keep_appointment(int job) {
  std::uint64_t able = allowed(job, ~kept_);
  if (jobs_[at(job)].second) able &= ~states_[at(job)].doers;
  Meeting soonest;
  for (; able != 0; able &= able - 1) {
    const Meeting found = meet(job, std::countr_zero(able));
    if (found.minute < soonest.minute) soonest = found;
  }
  for (std::uint64_t left = soonest.people; left != 0; left &= left - 1) {
    kept_from_[at(std::countr_zero(left))] = soonest.minute;
  }
  kept_ |= soonest.people;
}

/// The first minute at which this one can do it and so many others can be there all the while.
Dispatcher::Meeting Dispatcher::meet(int job, int doer) const {
  const int work = draw_->work[at(jobs_[at(job)].task)];
  const auto wanted = static_cast<long>(jobs_[at(job)].hands - 1);
  const std::uint64_t people = may_lend(job, doer) & ~kept_;
  for (int from = free_from(doer); from <= now_ + kFarthestAppointment;) {
    const Stay own = alone_from(doer, from, work);
    if (own.from >= kNever) break;
    Meeting found{own.from, 1ULL << doer};
    std::array<int, 64> could;
    long count = 0;
    long together = 0;
    for (std::uint64_t left = people; left != 0; left &= left - 1) {
      const int bit = std::countr_zero(left);
      const int minute = there_from(bit, std::max(own.from, free_from(bit)), own.minutes);
      could[at(static_cast<int>(count++))] = minute;
      if (minute > own.from || together == wanted) continue;
      found.people |= 1ULL << bit;
      ++together;
    }
    if (together == wanted) return found;
    if (count < wanted) break;
    std::nth_element(could.begin(), could.begin() + wanted - 1, could.begin() + count);
    from = could[at(static_cast<int>(wanted - 1))];
  }
  return {};
}

int Dispatcher::free_from(int bit) const {
  return (idle_ >> bit & 1) != 0 ? now_ : std::max(now_, workers_[at(bit)].busy_until);
}

/// First minute of these hours, from `from` on, from which there is so much room before they end
/// and no frozen start within; kNever when there is none.
int Dispatcher::fits_from(const Worker& worker, const Hours& hours, int from, int minutes) const {
  int begin = std::max(from, hours.from);
  for (int next = worker.next_frozen; frozen_starts_[at(next)] < begin + minutes; ++next) {
    begin = std::max(begin, frozen_starts_[at(next)]);
  }
  return begin + minutes <= hours.to ? begin : kNever;
}

/// First stay in one go for that work.
Dispatcher::Stay Dispatcher::alone_from(int bit, int from, int work) const {
  const Worker& worker = workers_[at(bit)];
  for (int next = worker.at; hours_[at(next)].from <= now_ + kFarthestAppointment; ++next) {
    const Hours& hours = hours_[at(next)];
    const int rate = hours.to > from ? rate_of(worker, hours.day) : 0;
    if (rate == 0) continue;
    const int minutes = (work + rate - 1) / rate;
    const int begin = fits_from(worker, hours, from, minutes);
    if (begin < kNever) return {begin, minutes};
  }
  return {};
}

/// First minute from which they are there for so long.
int Dispatcher::there_from(int bit, int from, int minutes) const {
  const Worker& worker = workers_[at(bit)];
  for (int next = worker.at; hours_[at(next)].from <= now_ + kFarthestAppointment; ++next) {
    const Hours& hours = hours_[at(next)];
    if (hours.to <= from || rate_of(worker, hours.day) == 0) continue;
    const int begin = fits_from(worker, hours, from, minutes);
    if (begin < kNever) return begin;
  }
  return kNever;
}

}  // namespace rollwright::plan
