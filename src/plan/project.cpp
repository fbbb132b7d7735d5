#include "plan/project.hpp"

#include <algorithm>

#include <fmt/format.h>

namespace rollwright::plan {
namespace {

std::string called(const Activity& activity, std::size_t index) {
  return activity.name.empty() ? fmt::format("activity {}", index)
                               : fmt::format("activity {}", activity.name);
}

Result<void> check_sizes(const std::vector<Activity>& activities,
                         const std::vector<int>& capacities) {
  if (activities.size() > static_cast<std::size_t>(kMostActivities)) {
    return refuse(Code::kTooLarge,
                  fmt::format("{} activities are more than the {} that one project may have.",
                              activities.size(), kMostActivities));
  }
  if (capacities.size() > static_cast<std::size_t>(kMostResources)) {
    return refuse(Code::kTooLarge,
                  fmt::format("{} resources are more than the {} that one project may have.",
                              capacities.size(), kMostResources));
  }
  for (std::size_t k = 0; k < capacities.size(); ++k) {
    if (capacities[k] < 0 || capacities[k] > kMostCapacity) {
      return refuse(Code::kOutOfRange,
                    fmt::format("The capacity of a resource is 0 to {} units.", kMostCapacity),
                    {.field = fmt::format("capacity of resource {}", k + 1),
                     .value = std::to_string(capacities[k])});
    }
  }
  return {};
}

Result<void> check_demand(const Activity& activity, std::size_t index,
                          const std::vector<int>& capacities) {
  if (activity.demand.size() != capacities.size()) {
    return refuse(Code::kBadInput,
                  fmt::format("The project has {} resources, so each activity states {} demands; "
                              "{} states {}.",
                              capacities.size(), capacities.size(), called(activity, index),
                              activity.demand.size()));
  }
  for (std::size_t k = 0; k < capacities.size(); ++k) {
    const Place place{.field = fmt::format("demand of {}", called(activity, index)),
                      .value = std::to_string(activity.demand[k])};
    if (activity.demand[k] < 0) {
      return refuse(Code::kOutOfRange, "A demand is 0 units or more.", place);
    }
    if (activity.demand[k] > capacities[k]) {
      return refuse(Code::kContradiction,
                    fmt::format("Resource {} has only {} units, so this could never start.", k + 1,
                                capacities[k]),
                    place);
    }
  }
  return {};
}

Result<void> check_activity(const Activity& activity, std::size_t index, std::size_t count) {
  if (activity.duration < 0 || activity.duration > kMostTotalDuration) {
    return refuse(Code::kOutOfRange,
                  fmt::format("A duration is 0 to {} time units.", kMostTotalDuration),
                  {.field = fmt::format("duration of {}", called(activity, index)),
                   .value = std::to_string(activity.duration)});
  }
  for (const int next : activity.successors) {
    if (next < 0 || static_cast<std::size_t>(next) >= count) {
      return refuse(Code::kOutOfRange,
                    fmt::format("There are {} activities, counted from 0; none has this index.",
                                count),
                    {.field = fmt::format("successors of {}", called(activity, index)),
                     .value = std::to_string(next)});
    }
  }
  return {};
}

void drop_repeats(std::vector<int>& indices) {
  std::sort(indices.begin(), indices.end());
  indices.erase(std::unique(indices.begin(), indices.end()), indices.end());
}

/// Each activity after its predecessors; shorter than the project when some wait in a ring.
std::vector<int> order_of(const std::vector<Activity>& activities,
                          const std::vector<std::vector<int>>& predecessors) {
  std::vector<std::size_t> waits(activities.size());
  std::vector<int> order;
  order.reserve(activities.size());
  for (std::size_t i = 0; i < activities.size(); ++i) {
    waits[i] = predecessors[i].size();
    if (waits[i] == 0) order.push_back(static_cast<int>(i));
  }
  for (std::size_t done = 0; done < order.size(); ++done) {
    for (const int next : activities[static_cast<std::size_t>(order[done])].successors) {
      if (--waits[static_cast<std::size_t>(next)] == 0) order.push_back(next);
    }
  }
  return order;
}

/// The activities of one ring, found by walking back from any that never came free.
std::string ring_of(const std::vector<Activity>& activities,
                    const std::vector<std::vector<int>>& predecessors,
                    const std::vector<int>& order) {
  std::vector<bool> free(activities.size(), false);
  for (const int i : order) free[static_cast<std::size_t>(i)] = true;
  auto at = static_cast<std::size_t>(std::find(free.begin(), free.end(), false) - free.begin());
  std::vector<std::size_t> road;
  std::vector<int> seen(activities.size(), -1);
  while (seen[at] < 0) {
    seen[at] = static_cast<int>(road.size());
    road.push_back(at);
    for (const int before : predecessors[at]) {
      if (!free[static_cast<std::size_t>(before)]) at = static_cast<std::size_t>(before);
    }
  }
  constexpr std::size_t kMostNamed = 8;
  std::string text;
  for (std::size_t step = static_cast<std::size_t>(seen[at]), named = 0;
       step < road.size() && named < kMostNamed; ++step, ++named) {
    text += (named == 0 ? "" : ", which waits for ") + called(activities[road[step]], road[step]);
  }
  return text;
}

}  // namespace

Result<Project> Project::make(std::vector<Activity> activities, std::vector<int> capacities) {
  if (auto fits = check_sizes(activities, capacities); !fits) return std::unexpected(fits.error());
  long long total = 0;
  for (std::size_t i = 0; i < activities.size(); ++i) {
    if (auto fits = check_activity(activities[i], i, activities.size()); !fits) {
      return std::unexpected(fits.error());
    }
    if (auto fits = check_demand(activities[i], i, capacities); !fits) {
      return std::unexpected(fits.error());
    }
    total += activities[i].duration;
  }
  if (total > kMostTotalDuration) {
    return refuse(Code::kTooLarge,
                  fmt::format("All durations together are {} time units; the most is {}. A coarser "
                              "time unit would fit.",
                              total, kMostTotalDuration));
  }
  Project project;
  project.predecessors_.resize(activities.size());
  for (std::size_t i = 0; i < activities.size(); ++i) {
    drop_repeats(activities[i].successors);
    for (const int next : activities[i].successors) {
      project.predecessors_[static_cast<std::size_t>(next)].push_back(static_cast<int>(i));
    }
  }
  project.order_ = order_of(activities, project.predecessors_);
  if (project.order_.size() != activities.size()) {
    return refuse(Code::kContradiction,
                  fmt::format("These activities wait for each other in a ring, so that none could "
                              "ever start: {}, which waits for the first again.",
                              ring_of(activities, project.predecessors_, project.order_)));
  }
  project.total_duration_ = static_cast<int>(total);
  project.activities_ = std::move(activities);
  project.capacities_ = std::move(capacities);
  return project;
}

int makespan_of(const Project& project, const Starts& starts) {
  int end = 0;
  for (int i = 0; i < project.size(); ++i) {
    end = std::max(end, starts[static_cast<std::size_t>(i)] + project.duration(i));
  }
  return end;
}

}  // namespace rollwright::plan
