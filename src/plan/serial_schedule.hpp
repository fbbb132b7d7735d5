#pragma once

#include <vector>

#include "plan/project.hpp"
#include "plan/project_profile.hpp"

namespace rollwright::plan {

/// Every activity once, in the order in which a scheduler takes them up.
using ActivityList = std::vector<int>;

/// A schedule with the length it has, so that nobody needs to measure it again.
struct Schedule {
  Starts starts;
  int makespan = 0;
};

/// Serial schedule generation: takes the activities in list order and starts each as early as its
/// predecessors and the resources allow. Among the schedules of all lists there is a shortest one
/// (Kolisch, EJOR 90, 1996), so a search over lists loses nothing.
///
/// Counting: one pass over a list is one generated schedule, as in the published comparisons
///           (Kolisch and Hartmann, EJOR 174, 2006).
/// Threads:  holds scratch space; one per thread.
class SerialScheduler {
 public:
  /// The project must outlive the scheduler.
  explicit SerialScheduler(const Project& project);

  /// `list` has each activity after its predecessors.
  void forward(const ActivityList& list, Schedule& schedule);
  /// `list` has each activity after its successors. Ends everything as late as possible, then moves
  /// the whole so that the first start is at 0.
  void backward(const ActivityList& list, Schedule& schedule);

  [[nodiscard]] long long schedules() const { return schedules_; }
  [[nodiscard]] const Project& project() const { return *project_; }

 private:
  /// Neighbours of all activities end to end: those of `i` are [first[i], first[i + 1]).
  struct Links {
    std::vector<int> first;
    std::vector<int> neighbours;
  };
  template <class NeighboursOf>
  Links links_of(NeighboursOf neighbours_of) const;
  int generate(const ActivityList& list, const Links& before);

  const Project* project_;
  Links predecessors_;
  Links successors_;
  std::vector<int> durations_;
  ProjectProfile profile_;
  std::vector<int> ends_;  // of the pass under way, in the direction of the pass
  long long schedules_ = 0;
};

}  // namespace rollwright::plan
