#pragma once

#include <algorithm>
#include <vector>

#include "base/random.hpp"
#include "plan/project.hpp"

/// Slow, plain second opinions for tests, and small invented projects to try them on.
namespace rollwright::plan::plain {

/// `size` activities with durations 0 to 5 on one to three resources of 1 to 4 units; about a third
/// of the pairs wait for each other. Invented; the numbering is shuffled so that nothing can rely
/// on it.
inline Project random_project(Random& random, int size) {
  const int resources = 1 + static_cast<int>(random.below(3));
  std::vector<int> capacities;
  for (int k = 0; k < resources; ++k) capacities.push_back(1 + static_cast<int>(random.below(4)));
  std::vector<int> number(static_cast<std::size_t>(size));
  for (std::size_t i = 0; i < number.size(); ++i) {
    number[i] = static_cast<int>(i);
    std::swap(number[i], number[random.below(i + 1)]);
  }
  std::vector<Activity> activities(number.size());
  for (std::size_t i = 0; i < number.size(); ++i) {
    Activity& activity = activities[static_cast<std::size_t>(number[i])];
    activity.duration = static_cast<int>(random.below(6));
    for (const int capacity : capacities) {
      const auto most = static_cast<std::uint64_t>(capacity) + 1;
      activity.demand.push_back(static_cast<int>(random.below(most)));
    }
    for (std::size_t later = i + 1; later < number.size(); ++later) {
      if (random.below(3) == 0) activity.successors.push_back(number[later]);
    }
  }
  return Project::make(std::move(activities), std::move(capacities)).value();
}

/// Time unit by time unit, straight from the definition.
inline bool feasible(const Project& project, const Starts& starts) {
  const auto start = [&](int i) { return starts[static_cast<std::size_t>(i)]; };
  int end = 0;
  for (int i = 0; i < project.size(); ++i) {
    if (start(i) < 0) return false;
    end = std::max(end, start(i) + project.duration(i));
    for (const int before : project.predecessors(i)) {
      if (start(before) + project.duration(before) > start(i)) return false;
    }
  }
  for (int now = 0; now < end; ++now) {
    for (int k = 0; k < project.resources(); ++k) {
      int held = 0;
      for (int i = 0; i < project.size(); ++i) {
        const bool runs = start(i) <= now && now < start(i) + project.duration(i);
        if (runs) held += project.demand(i, k);
      }
      if (held > project.capacity(k)) return false;
    }
  }
  return true;
}

/// Starts each activity of the list at the first moment that leaves the part so far feasible.
inline Starts schedule(const Project& project, const std::vector<int>& list) {
  Starts starts(static_cast<std::size_t>(project.size()), -1);
  const auto held_at = [&](int now, int k) {
    int held = 0;
    for (int i = 0; i < project.size(); ++i) {
      const int start = starts[static_cast<std::size_t>(i)];
      if (start >= 0 && start <= now && now < start + project.duration(i)) {
        held += project.demand(i, k);
      }
    }
    return held;
  };
  const auto fits = [&](int i, int start) {
    for (int now = start; now < start + project.duration(i); ++now) {
      for (int k = 0; k < project.resources(); ++k) {
        if (held_at(now, k) + project.demand(i, k) > project.capacity(k)) return false;
      }
    }
    return true;
  };
  for (const int i : list) {
    int start = 0;
    for (const int before : project.predecessors(i)) {
      start = std::max(start, starts[static_cast<std::size_t>(before)] + project.duration(before));
    }
    while (!fits(i, start)) ++start;
    starts[static_cast<std::size_t>(i)] = start;
  }
  return starts;
}

/// Calls `visit` with every list that has each activity after its predecessors.
template <class Visit>
void every_list(const Project& project, std::vector<int>& list, const Visit& visit) {
  if (list.size() == static_cast<std::size_t>(project.size())) {
    visit(list);
    return;
  }
  const auto listed = [&](int i) { return std::find(list.begin(), list.end(), i) != list.end(); };
  for (int i = 0; i < project.size(); ++i) {
    const auto before = project.predecessors(i);
    if (listed(i) || !std::all_of(before.begin(), before.end(), listed)) continue;
    list.push_back(i);
    every_list(project, list, visit);
    list.pop_back();
  }
}

/// Length of the shortest schedule, by trying every list.
inline int shortest(const Project& project) {
  int best = project.total_duration();
  std::vector<int> list;
  every_list(project, list, [&](const std::vector<int>& whole) {
    best = std::min(best, makespan_of(project, schedule(project, whole)));
  });
  return best;
}

/// One list, each activity after its predecessors, any with a fair share of luck.
inline std::vector<int> random_list(const Project& project, Random& random) {
  std::vector<int> list;
  const auto listed = [&](int i) { return std::find(list.begin(), list.end(), i) != list.end(); };
  while (list.size() < static_cast<std::size_t>(project.size())) {
    const int i = static_cast<int>(random.below(static_cast<std::uint64_t>(project.size())));
    const auto before = project.predecessors(i);
    if (!listed(i) && std::all_of(before.begin(), before.end(), listed)) list.push_back(i);
  }
  return list;
}

}  // namespace rollwright::plan::plain
