#pragma once

#include <span>
#include <string>
#include <vector>

#include "base/result.hpp"

namespace rollwright::plan {

/// Limits that keep a schedule's memory and time bounded whatever a file says.
inline constexpr int kMostActivities = 20'000;
inline constexpr int kMostResources = 256;
inline constexpr int kMostCapacity = 1'000'000;
/// Sum of all durations, in time units.
inline constexpr int kMostTotalDuration = 4'000'000;

/// One piece of work. Once started it runs to its end.
struct Activity {
  std::string name;             // what people call it; used in sentences only
  int duration = 0;             // whole time units, 0 or more
  std::vector<int> successors;  // indices of the activities that must wait for its end
  std::vector<int> demand;      // units of each resource held while it runs, 0 up to its capacity
};

/// Start of each activity, in whole time units from the start of the project.
using Starts = std::vector<int>;

/// Work that shares resources: which activity waits for which, and what each one holds meanwhile.
///
/// This is the resource-constrained project scheduling problem as the open benchmark library states
/// it (Kolisch and Sprecher, EJOR 96, 1996): one mode, renewable resources, constant capacities,
/// aim: the earliest end of the last activity. An activity of duration 0 holds nothing.
///
/// Invariants: every index is valid, no activity waits for itself by any road, and no demand
///             exceeds its capacity, so that a feasible schedule always exists.
/// Threads:    constant once made; share it freely.
class Project {
 public:
  /// Errors: kOutOfRange for a negative or too large number or a wrong index, kBadInput when an
  ///         activity does not state one demand per resource, kContradiction for a demand above
  ///         the capacity and for activities that wait for each other in a ring, kTooLarge past
  ///         the limits above.
  [[nodiscard]] static Result<Project> make(std::vector<Activity> activities,
                                            std::vector<int> capacities);

  [[nodiscard]] int size() const { return static_cast<int>(activities_.size()); }
  [[nodiscard]] int resources() const { return static_cast<int>(capacities_.size()); }
  [[nodiscard]] const std::string& name(int activity) const { return at(activity).name; }
  [[nodiscard]] int duration(int activity) const { return at(activity).duration; }
  [[nodiscard]] int demand(int activity, int resource) const {
    return at(activity).demand[static_cast<std::size_t>(resource)];
  }
  [[nodiscard]] int capacity(int resource) const {
    return capacities_[static_cast<std::size_t>(resource)];
  }
  /// Without repeats, rising.
  [[nodiscard]] std::span<const int> successors(int activity) const {
    return at(activity).successors;
  }
  [[nodiscard]] std::span<const int> predecessors(int activity) const {
    return predecessors_[static_cast<std::size_t>(activity)];
  }
  /// Every activity once, each after all of its predecessors.
  [[nodiscard]] std::span<const int> waiting_order() const { return order_; }
  /// Sum of all durations: no schedule worth having is longer.
  [[nodiscard]] int total_duration() const { return total_duration_; }

 private:
  Project() = default;
  [[nodiscard]] const Activity& at(int activity) const {
    return activities_[static_cast<std::size_t>(activity)];
  }

  std::vector<Activity> activities_;
  std::vector<int> capacities_;
  std::vector<std::vector<int>> predecessors_;
  std::vector<int> order_;
  int total_duration_ = 0;
};

/// End of the last activity; 0 for a project without activities.
[[nodiscard]] int makespan_of(const Project& project, const Starts& starts);

}  // namespace rollwright::plan
