#pragma once

#include <span>
#include <string>
#include <vector>

#include "base/result.hpp"

namespace rollwright::plan {

/// Limits that keep memory and time bounded whatever a file says.
inline constexpr int kMostLineTasks = 2'000;
inline constexpr int kMostTaskTime = 1'000'000'000;

/// A piece of work that one station does without a break.
struct LineTask {
  std::string name;  // used in sentences only
  int time = 0;      // whole time units, 0 or more
  std::vector<int> successors = {};  // indices of tasks that come later on the line, or at the
                                     // same station after it
};

/// Work to be shared out over the stations of a line: which task takes how long and which must come
/// before which. The simple assembly line balancing problem (A. Scholl, Balancing and Sequencing of
/// Assembly Lines, 1999, from memory).
///
/// Invariants: every index is valid and no task comes before itself by any road.
/// Threads:    constant once made; share it freely.
class Line {
 public:
  /// Errors: kOutOfRange for a number outside its range or a wrong index, kTooLarge past the limits
  ///         above, kContradiction for tasks that come before each other in a ring.
  [[nodiscard]] static Result<Line> make(std::vector<LineTask> tasks);

  [[nodiscard]] int size() const { return static_cast<int>(tasks_.size()); }
  [[nodiscard]] const std::string& name(int task) const { return at(task).name; }
  [[nodiscard]] int time(int task) const { return at(task).time; }
  [[nodiscard]] std::span<const int> successors(int task) const { return at(task).successors; }
  [[nodiscard]] std::span<const int> predecessors(int task) const {
    return predecessors_[static_cast<std::size_t>(task)];
  }
  /// Every task once, each after all that come before it.
  [[nodiscard]] std::span<const int> waiting_order() const { return order_; }
  [[nodiscard]] long long total_time() const { return total_time_; }
  [[nodiscard]] int longest_time() const { return longest_time_; }
  /// The same work seen from the end of the line.
  [[nodiscard]] Line reversed() const;

 private:
  Line() = default;
  [[nodiscard]] const LineTask& at(int task) const {
    return tasks_[static_cast<std::size_t>(task)];
  }

  std::vector<LineTask> tasks_;
  std::vector<std::vector<int>> predecessors_;
  std::vector<int> order_;
  long long total_time_ = 0;
  int longest_time_ = 0;
};

/// Station of each task, from 0.
using Stations = std::vector<int>;

}  // namespace rollwright::plan
