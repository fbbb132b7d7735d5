#include "plan/time_table.hpp"

#include <algorithm>

namespace rollwright::plan {

TimeTable::TimeTable(const Project& project, int horizon)
    : parts_(static_cast<std::size_t>(project.resources())),
      resources_(static_cast<std::size_t>(project.size())),
      horizon_(horizon),
      held_(static_cast<std::size_t>(horizon) + 1) {
  for (int k = 0; k < project.resources(); ++k) {
    capacities_.push_back(project.capacity(k));
    std::vector<Part>& parts = parts_[static_cast<std::size_t>(k)];
    for (int i = 0; i < project.size(); ++i) {
      if (project.duration(i) == 0 || project.demand(i, k) == 0) continue;
      parts.push_back({i, project.duration(i), project.demand(i, k)});
      resources_[static_cast<std::size_t>(i)].push_back(k);
    }
    std::stable_sort(parts.begin(), parts.end(),
                     [](const Part& a, const Part& b) { return a.units > b.units; });
  }
}

void TimeTable::begin(int resource, const StartClaims& starts) {
  resource_ = resource;
  at_ = 0;
  overloaded_ = -1;
  most_held_ = 0;
  std::fill(held_.begin(), held_.end(), 0);
  for (const Part& part : parts_[static_cast<std::size_t>(resource)]) {
    const int first = starts.latest(part.activity);
    const int end = starts.earliest(part.activity) + part.duration;
    if (first >= end) continue;
    held_[static_cast<std::size_t>(first)] += part.units;
    held_[static_cast<std::size_t>(end)] -= part.units;
  }
  int held = 0;
  for (std::size_t t = 0; t < held_.size(); ++t) {
    held += held_[t];
    held_[t] = held;
    if (held > most_held_) {
      most_held_ = held;
      overloaded_ = static_cast<int>(t);
    }
  }
  if (most_held_ <= capacities_[static_cast<std::size_t>(resource)]) overloaded_ = -1;
}

// The neediest first, so that few are named; of those named, the ones that turn out not to be
// needed are the last added and do not exist.
void TimeTable::explain(int moment, int more_than, int except, const StartClaims& starts) {
  int held = 0;
  for (const Part& part : parts_[static_cast<std::size_t>(resource_)]) {
    if (held > more_than) return;
    if (part.activity == except) continue;
    if (starts.latest(part.activity) > moment) continue;
    if (starts.earliest(part.activity) + part.duration <= moment) continue;
    held += part.units;
    reason_.push_back(starts_from(part.activity, moment + 1 - part.duration));
    reason_.push_back(starts_by(part.activity, moment));
  }
}

int TimeTable::free_beside(const Part& part, int moment, const StartClaims& starts) const {
  int held = held_[static_cast<std::size_t>(moment)];
  if (starts.latest(part.activity) <= moment &&
      moment < starts.earliest(part.activity) + part.duration) {
    held -= part.units;
  }
  return capacities_[static_cast<std::size_t>(resource_)] - held;
}

bool TimeTable::push_late(const Part& part, const StartClaims& starts, Found& found) {
  const int start = starts.earliest(part.activity);
  for (int t = start + part.duration - 1; t >= start; --t) {
    if (free_beside(part, t, starts) >= part.units) continue;
    reason_.push_back(starts_from(part.activity, t + 1 - part.duration));
    explain(t, capacities_[static_cast<std::size_t>(resource_)] - part.units, part.activity,
            starts);
    found = {Found::Kind::kConclusion, starts_from(part.activity, t + 1)};
    return true;
  }
  return false;
}

bool TimeTable::push_early(const Part& part, const StartClaims& starts, Found& found) {
  const int start = starts.latest(part.activity);
  for (int t = start; t < start + part.duration; ++t) {
    if (free_beside(part, t, starts) >= part.units) continue;
    reason_.push_back(starts_by(part.activity, t));
    explain(t, capacities_[static_cast<std::size_t>(resource_)] - part.units, part.activity,
            starts);
    found = {Found::Kind::kConclusion, starts_by(part.activity, t - part.duration)};
    return true;
  }
  return false;
}

TimeTable::Found TimeTable::next(int resource, const StartClaims& starts) {
  reason_.clear();
  Found found;
  const int capacity = capacities_[static_cast<std::size_t>(resource)];
  if (overloaded_ >= 0) {
    explain(overloaded_, capacity, -1, starts);
    found.kind = Found::Kind::kConflict;
    return found;
  }
  const std::vector<Part>& parts = parts_[static_cast<std::size_t>(resource)];
  for (; at_ < parts.size(); ++at_) {
    const Part& part = parts[at_];
    if (most_held_ + part.units <= capacity) break;  // and so are all after it
    if (starts.earliest(part.activity) == starts.latest(part.activity)) continue;
    if (push_late(part, starts, found) || push_early(part, starts, found)) return found;
  }
  return found;
}

}  // namespace rollwright::plan
