#include "plan/project_bound.hpp"

#include <algorithm>
#include <numeric>

namespace rollwright::plan {
namespace {

constexpr int kMostForWindows = 400;

long long rounded_up(long long work, long long capacity) {
  return work == 0 ? 0 : (work + capacity - 1) / capacity;
}

long long energy_of(const Project& project, int activity, int resource) {
  return static_cast<long long>(project.duration(activity)) * project.demand(activity, resource);
}

long long energy_bound(const Project& project, int resource) {
  long long work = 0;
  for (int i = 0; i < project.size(); ++i) work += energy_of(project, i, resource);
  return rounded_up(work, project.capacity(resource));
}

/// For one least head: takes the activities by falling tail, so that each prefix is the set of all
/// with at least that tail.
long long window_bound(const Project& project, const Surroundings& around, int resource,
                       const std::vector<int>& by_falling_tail, int head) {
  long long work = 0;
  long long best = 0;
  for (const int i : by_falling_tail) {
    const auto index = static_cast<std::size_t>(i);
    if (around.heads[index] < head) continue;
    const long long more = energy_of(project, i, resource);
    if (more == 0) continue;
    work += more;
    best = std::max(best,
                    head + rounded_up(work, project.capacity(resource)) + around.tails[index]);
  }
  return best;
}

long long windows_bound(const Project& project, const Surroundings& around, int resource) {
  std::vector<int> heads = around.heads;
  std::sort(heads.begin(), heads.end());
  heads.erase(std::unique(heads.begin(), heads.end()), heads.end());
  std::vector<int> by_falling_tail(static_cast<std::size_t>(project.size()));
  std::iota(by_falling_tail.begin(), by_falling_tail.end(), 0);
  std::stable_sort(by_falling_tail.begin(), by_falling_tail.end(), [&](int a, int b) {
    return around.tails[static_cast<std::size_t>(a)] > around.tails[static_cast<std::size_t>(b)];
  });
  long long best = 0;
  for (const int head : heads) {
    best = std::max(best, window_bound(project, around, resource, by_falling_tail, head));
  }
  return best;
}

}  // namespace

Surroundings surroundings_of(const Project& project) {
  const auto size = static_cast<std::size_t>(project.size());
  Surroundings around{std::vector<int>(size, 0), std::vector<int>(size, 0)};
  const std::span<const int> order = project.waiting_order();
  for (const int i : order) {
    const int end = around.heads[static_cast<std::size_t>(i)] + project.duration(i);
    for (const int next : project.successors(i)) {
      int& head = around.heads[static_cast<std::size_t>(next)];
      head = std::max(head, end);
    }
  }
  for (auto at = order.rbegin(); at != order.rend(); ++at) {
    const int rest = around.tails[static_cast<std::size_t>(*at)] + project.duration(*at);
    for (const int before : project.predecessors(*at)) {
      int& tail = around.tails[static_cast<std::size_t>(before)];
      tail = std::max(tail, rest);
    }
  }
  return around;
}

int ProjectBounds::best() const { return std::max({critical_path, energy, energy_between}); }

ProjectBounds bounds_of(const Project& project) {
  const Surroundings around = surroundings_of(project);
  ProjectBounds bounds;
  for (int i = 0; i < project.size(); ++i) {
    bounds.critical_path = std::max(
        bounds.critical_path, around.heads[static_cast<std::size_t>(i)] + project.duration(i));
  }
  for (int k = 0; k < project.resources(); ++k) {
    // No demand exceeds its capacity, so no bound exceeds the sum of the durations.
    bounds.energy = std::max(bounds.energy, static_cast<int>(energy_bound(project, k)));
  }
  bounds.energy_between = bounds.energy;
  if (project.size() > kMostForWindows) return bounds;
  for (int k = 0; k < project.resources(); ++k) {
    bounds.energy_between =
        std::max(bounds.energy_between, static_cast<int>(windows_bound(project, around, k)));
  }
  return bounds;
}

}  // namespace rollwright::plan
