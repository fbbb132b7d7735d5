#pragma once

#include <vector>

#include "plan/serial_schedule.hpp"

namespace rollwright::plan {

/// Lists read off a schedule, and double justification: everything pushed as late as it goes, then
/// as early as it goes. The result is never longer and often shorter; two generated schedules.
///
/// Source:  Valls, Ballestin and Quintanilla, Justification and RCPSP: a technique that pays,
///          EJOR 165 (2005).
/// Threads: holds scratch space; one per thread.
class Justifier {
 public:
  explicit Justifier(const Project& project);

  /// Activities by rising start; those that start together in waiting order, so that the list is
  /// fit for a forward pass.
  void list_by_start(const Schedule& schedule, ActivityList& list);
  /// Activities by falling end, fit for a backward pass.
  void list_by_end(const Schedule& schedule, ActivityList& list);

  /// Pushes everything late: one backward pass.
  void justify_right(SerialScheduler& scheduler, Schedule& schedule);
  /// Pushes everything early: one forward pass.
  void justify_left(SerialScheduler& scheduler, Schedule& schedule);
  void justify_twice(SerialScheduler& scheduler, Schedule& schedule);

 private:
  /// Stable sort of the activities in `order` by key, 0 to `most_key`.
  void sort_by_key(const ActivityList& order, int most_key, ActivityList& list);

  ActivityList waiting_;      // predecessors first
  ActivityList waited_for_;   // successors first
  std::vector<int> durations_;
  std::vector<int> keys_;     // of each activity, for the sort under way
  std::vector<int> counts_;
  ActivityList list_;
};

}  // namespace rollwright::plan
