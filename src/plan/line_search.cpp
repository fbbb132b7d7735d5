#include "plan/line_search.hpp"

#include <algorithm>
#include <numeric>

namespace rollwright::plan {
namespace {

constexpr std::size_t kMostMeasures = 12;
/// What an open task counts against a hundredth of idle time in the order of half-filled lines.
constexpr double kOpenTaskWeight = 0.02;

}  // namespace

LineSearch::LineSearch(const Line& line, int takt, int stations)
    : line_(&line),
      takt_(takt),
      stations_(stations),
      width_((static_cast<std::size_t>(line.size()) + 63) / 64),
      measures_(work_measures(line, takt, kMostMeasures)) {
  const auto size = static_cast<std::size_t>(line.size());
  width_ = std::max<std::size_t>(width_, 1);
  followers_.assign(size, std::vector<Word>(width_, 0));
  const auto order = line.waiting_order();
  for (auto at = order.rbegin(); at != order.rend(); ++at) {
    std::vector<Word>& all = followers_[static_cast<std::size_t>(*at)];
    for (const int next : line.successors(*at)) {
      all[static_cast<std::size_t>(next) / 64] |= Word{1} << (next % 64);
      const std::vector<Word>& further = followers_[static_cast<std::size_t>(next)];
      for (std::size_t w = 0; w < width_; ++w) all[w] |= further[w];
    }
  }
  due_.assign(static_cast<std::size_t>(std::max(0, stations)) + 1, std::vector<Word>(width_, 0));
  const std::vector<long long> behind = work_behind(line, takt);
  for (int i = 0; i < line.size(); ++i) {
    const long long need = line.time(i) + behind[static_cast<std::size_t>(i)];
    const long long last = stations + 1 - std::max(1LL, (need + takt - 1) / takt);
    if (last < 1) hopeless_ = true;
    for (long long filled = std::max(1LL, last); filled <= stations; ++filled) {
      due_[static_cast<std::size_t>(filled)][static_cast<std::size_t>(i) / 64] |=
          Word{1} << (i % 64);
    }
  }
  hopeless_ |= line.longest_time() > takt || least_stations(line, takt) > stations;
}

std::uint64_t LineSearch::hash_of(const Word* set, std::size_t width) {
  std::uint64_t hash = 0x9e3779b97f4a7c15ULL;
  for (std::size_t w = 0; w < width; ++w) {
    hash = (hash ^ set[w]) * 0xff51afd7ed558ccdULL;
    hash ^= hash >> 32;
  }
  return hash;
}

LineSearch::Outcome LineSearch::run(const LineEffort& effort) {
  if (hopeless_) return Outcome::kNone;
  kept_.assign(1, {});
  words_.assign(width_, 0);
  waiting_.assign(static_cast<std::size_t>(stations_) + 1, {});
  known_.clear();
  complete_ = true;
  over_ = false;
  steps_ = 0;
  found_.clear();
  if (line_->size() == 0) return Outcome::kFound;
  waiting_[0].push_back({0, 0});
  bool any = true;
  while (any && !over_) {
    any = false;
    for (std::size_t filled = 0; filled < waiting_.size() && !over_; ++filled) {
      std::vector<Waiting>& heap = waiting_[filled];
      if (heap.empty()) continue;
      any = true;
      std::pop_heap(heap.begin(), heap.end(), Waiting::comes_later);
      const int state = heap.back().state;
      heap.pop_back();
      expand(state, effort);
    }
  }
  if (!found_.empty()) return Outcome::kFound;
  return over_ || !complete_ ? Outcome::kGaveUp : Outcome::kNone;
}

void LineSearch::expand(int state, const LineEffort& effort) {
  if (kept_[static_cast<std::size_t>(state)].stations >= stations_) return;
  from_state_ = state;
  set_.assign(tasks_of(state), tasks_of(state) + width_);
  waits_.assign(static_cast<std::size_t>(line_->size()), 0);
  open_.clear();
  load_.clear();
  load_time_ = 0;
  loads_ = 0;
  placed_time_ = 0;
  left_.assign(measures_.size(), 0);
  for (int i = 0; i < line_->size(); ++i) {
    if (has(set_.data(), i)) {
      placed_time_ += line_->time(i);
      continue;
    }
    for (std::size_t m = 0; m < measures_.size(); ++m) {
      left_[m] += measures_[m].work[static_cast<std::size_t>(i)];
    }
    int& waits = waits_[static_cast<std::size_t>(i)];
    for (const int before : line_->predecessors(i)) waits += has(set_.data(), before) ? 0 : 1;
    if (waits == 0) open_.push_back(i);
  }
  // Large tasks first: full stations are met early.
  std::stable_sort(open_.begin(), open_.end(),
                   [this](int a, int b) { return line_->time(a) > line_->time(b); });
  fill(0, effort);
}

void LineSearch::put(int task) {
  ++steps_;
  set_[static_cast<std::size_t>(task) / 64] |= Word{1} << (task % 64);
  load_.push_back(task);
  load_time_ += line_->time(task);
  for (std::size_t m = 0; m < measures_.size(); ++m) {
    left_[m] -= measures_[m].work[static_cast<std::size_t>(task)];
  }
  for (const int next : line_->successors(task)) {
    if (--waits_[static_cast<std::size_t>(next)] == 0) open_.push_back(next);
  }
}

void LineSearch::take_back(int task, std::size_t open_before) {
  open_.resize(open_before);
  for (const int next : line_->successors(task)) ++waits_[static_cast<std::size_t>(next)];
  for (std::size_t m = 0; m < measures_.size(); ++m) {
    left_[m] += measures_[m].work[static_cast<std::size_t>(task)];
  }
  load_time_ -= line_->time(task);
  load_.pop_back();
  set_[static_cast<std::size_t>(task) / 64] &= ~(Word{1} << (task % 64));
}

bool LineSearch::is_spent(const LineEffort& effort) const {
  constexpr long long kBetweenStops = 1'024;
  if (steps_ >= effort.most_steps || kept_.size() >= effort.most_states) return true;
  const bool asks = steps_ % kBetweenStops == 0 && effort.stop != nullptr && *effort.stop;
  return asks && (*effort.stop)();
}

/// Each set of tasks once: later choices come later in `open_`.
void LineSearch::fill(std::size_t from, const LineEffort& effort) {
  for (std::size_t at = from; at < open_.size() && !over_; ++at) {
    const int task = open_[at];
    if (load_time_ + line_->time(task) > takt_) continue;
    if (loads_ >= effort.most_loads) {
      complete_ = false;
      return;
    }
    const std::size_t open_before = open_.size();
    put(task);
    fill(at + 1, effort);
    take_back(task, open_before);
    over_ = over_ || is_spent(effort);
  }
  if (over_ || load_.empty()) return;
  close_station();
}

/// Keeps the line with this station, unless a task could be added or something better is sure.
void LineSearch::close_station() {
  for (const int task : open_) {
    if (!has(set_.data(), task) && load_time_ + line_->time(task) <= takt_) return;
  }
  ++loads_;
  if (!rest_fits() || can_be_exchanged()) return;
  keep();
}

bool LineSearch::rest_fits() const {
  const int filled = kept_[static_cast<std::size_t>(from_state_)].stations + 1;
  for (std::size_t m = 0; m < measures_.size(); ++m) {
    if (left_[m] > measures_[m].whole * (stations_ - filled)) return false;
  }
  const std::vector<Word>& due = due_[static_cast<std::size_t>(filled)];
  for (std::size_t w = 0; w < width_; ++w) {
    if ((due[w] & ~set_[w]) != 0) return false;
  }
  return true;
}

/// Whether a task of the station can give way to an open one that takes no less time and that all
/// that waits for it waits for, too. Of equals the one with the lower number stays.
bool LineSearch::can_be_exchanged() const {
  for (const int other : open_) {
    if (has(set_.data(), other)) continue;
    const std::vector<Word>& others = followers_[static_cast<std::size_t>(other)];
    for (const int task : load_) {
      const int longer = line_->time(other) - line_->time(task);
      if (longer < 0 || load_time_ + longer > takt_) continue;
      const std::vector<Word>& own = followers_[static_cast<std::size_t>(task)];
      bool covered = true;
      for (std::size_t w = 0; w < width_ && covered; ++w) covered = (own[w] & ~others[w]) == 0;
      if (!covered || (own == others && longer == 0 && task < other)) continue;
      // A follower on the same station would lose what it waits for.
      bool followed = false;
      for (const int mate : load_) followed |= has(own.data(), mate);
      // The other must not itself wait for the task that gives way.
      if (!followed && !has(own.data(), other)) return true;
    }
  }
  return false;
}

void LineSearch::keep() {
  const int filled = kept_[static_cast<std::size_t>(from_state_)].stations + 1;
  const std::uint64_t hash = hash_of(set_.data(), width_);
  const auto [first, end] = known_.equal_range(hash);
  for (auto at = first; at != end; ++at) {
    const Word* other = tasks_of(at->second);
    if (!std::equal(set_.begin(), set_.end(), other)) continue;
    Kept& same = kept_[static_cast<std::size_t>(at->second)];
    if (same.stations <= filled) return;
  }
  const int state = static_cast<int>(kept_.size());
  kept_.push_back({from_state_, filled});
  words_.insert(words_.end(), set_.begin(), set_.end());
  known_.emplace(hash, state);
  const long long placed = placed_time_ + load_time_;
  int open_tasks = line_->size();
  for (const Word word : set_) open_tasks -= __builtin_popcountll(word);
  if (open_tasks == 0) {
    write_found(state);
    over_ = true;
    return;
  }
  const double idle = static_cast<double>(static_cast<long long>(takt_) * filled - placed);
  const double rank = 100 * idle / filled / takt_ + kOpenTaskWeight * open_tasks;
  std::vector<Waiting>& heap = waiting_[static_cast<std::size_t>(filled)];
  heap.push_back({rank, state});
  std::push_heap(heap.begin(), heap.end(), Waiting::comes_later);
}

void LineSearch::write_found(int state) {
  found_.assign(static_cast<std::size_t>(line_->size()), 0);
  for (int at = state; at >= 0; at = kept_[static_cast<std::size_t>(at)].before) {
    const Kept& kept = kept_[static_cast<std::size_t>(at)];
    if (kept.before < 0) break;
    for (int i = 0; i < line_->size(); ++i) {
      if (has(tasks_of(at), i) && !has(tasks_of(kept.before), i)) {
        found_[static_cast<std::size_t>(i)] = kept.stations - 1;
      }
    }
  }
}

}  // namespace rollwright::plan
