#include "plan/ready_jobs.hpp"

#include <algorithm>
#include <bit>

#include "plan/workshop.hpp"

namespace rollwright::plan {
namespace {

constexpr std::size_t kWordBits = 64;

std::uint64_t bit_of(int bit) { return 1ULL << (at(bit) % kWordBits); }

/// A bit for the job in the last words, which begin with the word `from`.
int add_bit(std::vector<std::uint64_t>& words, std::vector<int>& jobs, std::size_t from, int job) {
  if (words.size() == from || jobs.size() == words.size() * kWordBits) words.push_back(0);
  jobs.push_back(job);
  return static_cast<int>(jobs.size()) - 1;
}

/// What comes next begins with a word of its own.
void end_word(const std::vector<std::uint64_t>& words, std::vector<int>& jobs) {
  jobs.resize(words.size() * kWordBits, kNever);
}

}  // namespace

ReadyJobs::ReadyJobs(std::span<const Place> jobs, std::size_t groups, std::size_t bikes)
    : slots_(jobs.size()),
      taken_(bikes),
      first_(groups, kNever),
      with_any_((groups + kWordBits - 1) / kWordBits) {
  std::vector<std::vector<int>> of_group(groups);
  std::vector<std::vector<int>> of_bike(bikes);
  for (std::size_t job = 0; job < jobs.size(); ++job) {
    slots_[job] = {.group = jobs[job].group, .bike = jobs[job].bike};
    of_group[at(jobs[job].group)].push_back(static_cast<int>(job));
    if (jobs[job].bike >= 0) of_bike[at(jobs[job].bike)].push_back(static_cast<int>(job));
  }
  for (const std::vector<int>& own : of_group) {
    const std::size_t from = open_.size();
    for (const int job : own) slots_[at(job)].bit = add_bit(open_, jobs_, from, job);
    end_word(open_, jobs_);
    end_.push_back(open_.size());
  }
  for (const std::vector<int>& own : of_bike) {
    const std::size_t from = on_bike_.size();
    bike_from_.push_back(from);
    for (const int job : own) slots_[at(job)].bike_bit = add_bit(on_bike_, bike_jobs_, from, job);
    end_word(on_bike_, bike_jobs_);
  }
  bike_from_.push_back(on_bike_.size());
}

void ReadyJobs::clear() {
  std::ranges::fill(open_, 0);
  std::ranges::fill(on_bike_, 0);
  std::ranges::fill(taken_, 0);
  std::ranges::fill(first_, kNever);
  std::ranges::fill(with_any_, 0);
}

void ReadyJobs::open(int job) {
  const Slot& slot = slots_[at(job)];
  open_[at(slot.bit) / kWordBits] |= bit_of(slot.bit);
  first_[at(slot.group)] = std::min(first_[at(slot.group)], job);
  with_any_[at(slot.group) / kWordBits] |= bit_of(slot.group);
}

void ReadyJobs::close(int job) {
  const Slot& slot = slots_[at(job)];
  std::size_t word = at(slot.bit) / kWordBits;
  open_[word] &= ~bit_of(slot.bit);
  int& first = first_[at(slot.group)];
  if (first != job) return;
  const std::size_t end = end_[at(slot.group)];
  while (word < end && open_[word] == 0) ++word;
  if (word < end) {
    first = jobs_[word * kWordBits + at(std::countr_zero(open_[word]))];
    return;
  }
  first = kNever;
  with_any_[at(slot.group) / kWordBits] &= ~bit_of(slot.group);
}

void ReadyJobs::add(int job) {
  const Slot& slot = slots_[at(job)];
  if (slot.bike >= 0) {
    on_bike_[at(slot.bike_bit) / kWordBits] |= bit_of(slot.bike_bit);
    if (taken_[at(slot.bike)] != 0) return;
  }
  open(job);
}

void ReadyJobs::remove(int job) {
  const Slot& slot = slots_[at(job)];
  if (slot.bike >= 0) on_bike_[at(slot.bike_bit) / kWordBits] &= ~bit_of(slot.bike_bit);
  close(job);
}

template <class Do>
void ReadyJobs::each_on(int bike, Do what) {
  for (std::size_t word = bike_from_[at(bike)]; word < bike_from_[at(bike) + 1]; ++word) {
    for (std::uint64_t left = on_bike_[word]; left != 0; left &= left - 1) {
      what(bike_jobs_[word * kWordBits + at(std::countr_zero(left))]);
    }
  }
}

/// The others on its bike go first, while the job is still the first of its group.
void ReadyJobs::start(int job) {
  const Slot& slot = slots_[at(job)];
  if (slot.bike >= 0) {
    on_bike_[at(slot.bike_bit) / kWordBits] &= ~bit_of(slot.bike_bit);
    taken_[at(slot.bike)] = 1;
    each_on(slot.bike, [this](int other) { close(other); });
  }
  close(job);
}

void ReadyJobs::free_bike(int bike) {
  taken_[at(bike)] = 0;
  each_on(bike, [this](int job) { open(job); });
}

bool ReadyJobs::any() const {
  return std::ranges::any_of(with_any_, [](std::uint64_t word) { return word != 0; });
}

}  // namespace rollwright::plan
