#include "plan/shorter_schedule.hpp"

#include <algorithm>
#include <limits>

namespace rollwright::plan {
namespace {

constexpr int kNotNeeded = std::numeric_limits<int>::min();
constexpr double kInterestGrowth = 1.0 / 0.95;
constexpr long long kFirstRun = 100;  // conflicts until the first restart

std::vector<int> latest_starts(const Project& project, const Surroundings& around, int limit) {
  std::vector<int> latest;
  for (int i = 0; i < project.size(); ++i) {
    latest.push_back(limit - around.tails[static_cast<std::size_t>(i)] - project.duration(i));
  }
  return latest;
}

/// 1, 1, 2, 1, 1, 2, 4, ... (M. Luby, A. Sinclair, D. Zuckerman 1993, from memory).
long long luby(long long index) {
  long long size = 1;
  while (size < index + 1) size = 2 * size + 1;
  while (size - 1 != index) {
    size = (size - 1) / 2;
    index %= size;
  }
  return (size + 1) / 2;
}

}  // namespace

ShorterSchedule::ShorterSchedule(const Project& project, int limit, const Starts& known)
    : project_(&project),
      around_(surroundings_of(project)),
      limit_(limit),
      starts_(around_.heads, latest_starts(project, around_, limit)),
      clauses_(starts_),
      table_(project, limit),
      guide_(known),
      marked_(static_cast<std::size_t>(project.resources()), true),
      strongest_(2 * static_cast<std::size_t>(project.size()), -1),
      interest_(static_cast<std::size_t>(clauses_.how_many_claims()), 0),
      place_in_heap_(interest_.size(), -1) {
  for (int number = 0; number < clauses_.how_many_claims(); ++number) push_open(number);
}

void ShorterSchedule::lower_limit(int limit) {
  go_back(0);
  limit_ = limit;
  const std::vector<int> latest = latest_starts(*project_, around_, limit);
  for (int i = 0; i < project_->size() && !hopeless_; ++i) {
    hopeless_ = !rises(starts_by(i, latest[static_cast<std::size_t>(i)]), {});
  }
}

/// False when the claim fails; `conflict_` then names what cannot hold together.
bool ShorterSchedule::rises(Claim claim, Because because) {
  if (starts_.holds(claim)) return true;
  if (!starts_.fails(claim)) {
    starts_.take(claim, because);
    return true;
  }
  conflict_.clear();
  if (because.kind == Because::Kind::kWaiting) {
    conflict_.push_back({because.a, claim.value - because.b});
  } else if (because.kind == Because::Kind::kClaims) {
    const auto kept = starts_.kept(because);
    conflict_.assign(kept.begin(), kept.end());
  }
  conflict_.push_back(denial_of(claim));
  return false;
}

bool ShorterSchedule::follow_waiting(const StartClaims::Step& step) {
  const int activity = step.side / 2;
  const bool later = (step.side & 1) == 0;
  const auto neighbours = later ? project_->successors(activity) : project_->predecessors(activity);
  for (const int other : neighbours) {
    const int between = project_->duration(later ? activity : other);
    const int side = 2 * other + (later ? 0 : 1);
    const Claim claim{side, step.after + between};
    if (!rises(claim, {Because::Kind::kWaiting, step.side, between})) return false;
  }
  return true;
}

void ShorterSchedule::mark_resources(const StartClaims::Step& step) {
  for (const int k : table_.resources_of(step.side / 2)) {
    marked_[static_cast<std::size_t>(k)] = true;
  }
}

bool ShorterSchedule::propagate_resource(int resource) {
  table_.begin(resource, starts_);
  while (true) {
    const TimeTable::Found found = table_.next(resource, starts_);
    if (found.kind == TimeTable::Found::Kind::kNothing) return true;
    if (found.kind == TimeTable::Found::Kind::kConflict) {
      conflict_ = table_.reason();
      return false;
    }
    if (!rises(found.claim, starts_.keep(table_.reason()))) return false;
  }
}

bool ShorterSchedule::propagate() {
  while (true) {
    while (followed_ < starts_.step_count()) {
      const StartClaims::Step step = starts_.step(followed_);
      mark_resources(step);
      if (!follow_waiting(step)) return false;
      const int broken = clauses_.follow(followed_, starts_);
      if (broken >= 0) {
        conflict_.clear();
        for (const Claim claim : clauses_.claims(broken)) conflict_.push_back(denial_of(claim));
        return false;
      }
      ++followed_;
    }
    const auto next = std::find(marked_.begin(), marked_.end(), true);
    if (next == marked_.end()) return true;
    *next = false;
    if (!propagate_resource(static_cast<int>(next - marked_.begin()))) return false;
  }
}

void ShorterSchedule::go_back(int level) {
  if (level >= starts_.level()) return;
  starts_.return_to(level, [this](const StartClaims::Step& step) {
    for (int value = step.before + 1; value <= step.after; ++value) {
      push_open(clauses_.number_of({step.side, value}));
    }
  });
  followed_ = std::min(followed_, starts_.step_count());
  // What a resource was marked for may not be undone.
  std::fill(marked_.begin(), marked_.end(), true);
}

/// Claims that together made the step's side reach `value`.
void ShorterSchedule::reason_of(int index, int value, std::vector<Claim>& claims) const {
  claims.clear();
  const StartClaims::Step& step = starts_.step(index);
  const Because& because = step.because;
  if (because.kind == Because::Kind::kWaiting) {
    claims.push_back({because.a, value - because.b});
  } else if (because.kind == Because::Kind::kClaims) {
    const auto kept = starts_.kept(because);
    claims.assign(kept.begin(), kept.end());
  } else if (because.kind == Because::Kind::kClause) {
    const Claim own{step.side, step.after};
    for (const Claim claim : clauses_.claims(because.a)) {
      if (!(claim == own)) claims.push_back(denial_of(claim));
    }
  }
}

void ShorterSchedule::need(Claim claim) {
  const int step = starts_.step_of(claim);
  if (step < 0 || starts_.step(step).level == 0) return;
  raise_interest(clauses_.number_of(claim));
  int& value = needs_[static_cast<std::size_t>(step)];
  if (value == kNotNeeded) {
    if (starts_.step(step).level == starts_.level()) {
      ++open_needs_;
    } else {
      needed_.push_back(step);
    }
  }
  value = std::max(value, claim.value);
}

/// Whether the step follows from others that are needed anyway.
bool ShorterSchedule::is_spare(int index) {
  if (starts_.step(index).because.kind == Because::Kind::kDecision) return false;
  reason_of(index, needs_[static_cast<std::size_t>(index)], scratch_);
  return std::all_of(scratch_.begin(), scratch_.end(), [this](Claim claim) {
    const int step = starts_.step_of(claim);
    return step < 0 || starts_.step(step).level == 0 ||
           needs_[static_cast<std::size_t>(step)] >= claim.value;
  });
}

/// Traces `conflict_` back to the last step through which everything goes, and writes the clause
/// that rules it out, the denial of that step first. Returns the level to go back to.
int ShorterSchedule::learn(std::vector<Claim>& clause, int& levels) {
  needs_.assign(static_cast<std::size_t>(starts_.step_count()), kNotNeeded);
  needed_.clear();
  open_needs_ = 0;
  for (const Claim claim : conflict_) need(claim);
  int at = starts_.step_count() - 1;
  std::vector<Claim> reason;
  for (;; --at) {
    const int value = needs_[static_cast<std::size_t>(at)];
    if (value == kNotNeeded) continue;
    if (open_needs_ == 1) break;
    reason_of(at, value, reason);
    --open_needs_;
    for (const Claim claim : reason) need(claim);
  }
  const Claim turning{starts_.step(at).side, needs_[static_cast<std::size_t>(at)]};
  clause.assign(1, denial_of(turning));
  std::vector<int> kept;
  for (const int step : needed_) {
    if (!is_spare(step)) kept.push_back(step);
  }
  // Of several claims on one side the strongest says it all; steps of a side come in its order.
  const auto strongest = [this](int side) -> int& {
    return strongest_[static_cast<std::size_t>(side)];
  };
  strongest(turning.side) = at;
  for (const int step : kept) {
    int& best = strongest(starts_.step(step).side);
    best = std::max(best, step);
  }
  int level = 0;
  std::vector<int> met;
  for (const int step : kept) {
    if (strongest(starts_.step(step).side) != step) continue;
    clause.push_back(denial_of({starts_.step(step).side, needs_[static_cast<std::size_t>(step)]}));
    met.push_back(starts_.step(step).level);
    if (met.back() <= level) continue;
    level = met.back();
    std::swap(clause[1], clause.back());
  }
  strongest(turning.side) = -1;
  for (const int step : kept) strongest(starts_.step(step).side) = -1;
  std::sort(met.begin(), met.end());
  levels = 1 + static_cast<int>(std::unique(met.begin(), met.end()) - met.begin());
  return level;
}

/// After a conflict: learns, goes back and takes what was learned. False when nothing is left.
bool ShorterSchedule::recover() {
  ++conflicts_;
  // A conflict may lie below the current level when propagation met it late.
  int level = 0;
  for (const Claim claim : conflict_) {
    const int step = starts_.step_of(claim);
    if (step >= 0) level = std::max(level, starts_.step(step).level);
  }
  if (level == 0) return false;
  go_back(level);
  std::vector<Claim> clause;
  int levels = 0;
  const int back = learn(clause, levels);
  step_of_interest_ *= kInterestGrowth;
  go_back(back);
  if (clause.size() == 1) return rises(clause[0], {});
  const int number = clauses_.add(clause, levels);
  return rises(clause[0], {Because::Kind::kClause, number, 0});
}

bool ShorterSchedule::is_open(int number) const {
  const Claim claim = clauses_.claim_of(number);
  return !starts_.holds(claim) && !starts_.fails(claim);
}

/// False when every start is settled.
bool ShorterSchedule::decide() {
  int number = pop_most_interesting();
  while (number >= 0 && !is_open(number)) number = pop_most_interesting();
  if (number < 0) return false;
  Claim claim = clauses_.claim_of(number);
  if (guide_[static_cast<std::size_t>(claim.side / 2)] < claim.value) claim = denial_of(claim);
  starts_.open_level();
  starts_.take(claim, {});
  return true;
}

ShorterSchedule::Outcome ShorterSchedule::search(long long most_conflicts) {
  if (hopeless_) return Outcome::kNone;
  const long long stop = conflicts_ + most_conflicts;
  while (true) {
    if (!propagate()) {
      hopeless_ = !recover();
      if (hopeless_) return Outcome::kNone;
      if (conflicts_ >= stop) return Outcome::kGaveUp;
      continue;
    }
    if (conflicts_ >= next_restart_) {
      next_restart_ = conflicts_ + kFirstRun * luby(restarts_++);
      go_back(0);
      if (clauses_.size() > most_clauses_) {
        clauses_.forget_half();
        most_clauses_ += most_clauses_ / 10;
      }
      continue;
    }
    if (decide()) continue;
    for (int i = 0; i < project_->size(); ++i) {
      guide_[static_cast<std::size_t>(i)] = starts_.earliest(i);
    }
    return Outcome::kFound;
  }
}

void ShorterSchedule::raise_interest(int number) {
  constexpr double kMost = 1e100;
  double& interest = interest_[static_cast<std::size_t>(number)];
  interest += step_of_interest_;
  if (interest > kMost) {
    for (double& each : interest_) each /= kMost;
    step_of_interest_ /= kMost;
  }
  const int place = place_in_heap_[static_cast<std::size_t>(number)];
  if (place >= 0) sift_up(static_cast<std::size_t>(place));
}

void ShorterSchedule::push_open(int number) {
  if (place_in_heap_[static_cast<std::size_t>(number)] >= 0) return;
  place_in_heap_[static_cast<std::size_t>(number)] = static_cast<int>(heap_.size());
  heap_.push_back(number);
  sift_up(heap_.size() - 1);
}

void ShorterSchedule::sift_up(std::size_t at) {
  const int number = heap_[at];
  const double interest = interest_[static_cast<std::size_t>(number)];
  while (at > 0) {
    const std::size_t above = (at - 1) / 2;
    if (interest_[static_cast<std::size_t>(heap_[above])] >= interest) break;
    heap_[at] = heap_[above];
    place_in_heap_[static_cast<std::size_t>(heap_[at])] = static_cast<int>(at);
    at = above;
  }
  heap_[at] = number;
  place_in_heap_[static_cast<std::size_t>(number)] = static_cast<int>(at);
}

void ShorterSchedule::sift_down(std::size_t at) {
  const int number = heap_[at];
  const auto interest_at = [this](std::size_t place) {
    return interest_[static_cast<std::size_t>(heap_[place])];
  };
  const double interest = interest_[static_cast<std::size_t>(number)];
  for (std::size_t below = 2 * at + 1; below < heap_.size(); below = 2 * at + 1) {
    if (below + 1 < heap_.size() && interest_at(below + 1) > interest_at(below)) ++below;
    if (interest_at(below) <= interest) break;
    heap_[at] = heap_[below];
    place_in_heap_[static_cast<std::size_t>(heap_[at])] = static_cast<int>(at);
    at = below;
  }
  heap_[at] = number;
  place_in_heap_[static_cast<std::size_t>(number)] = static_cast<int>(at);
}

int ShorterSchedule::pop_most_interesting() {
  if (heap_.empty()) return -1;
  const int number = heap_.front();
  place_in_heap_[static_cast<std::size_t>(number)] = -1;
  const int last = heap_.back();
  heap_.pop_back();
  if (!heap_.empty()) {
    heap_[0] = last;
    place_in_heap_[static_cast<std::size_t>(last)] = 0;
    sift_down(0);
  }
  return number;
}

}  // namespace rollwright::plan
