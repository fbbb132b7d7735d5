#pragma once

#include <vector>

#include "plan/project.hpp"

namespace rollwright::plan {

/// Time that must pass before an activity can start and after it ends, from waiting alone.
struct Surroundings {
  std::vector<int> heads;  // time units from the project's start to the activity's earliest start
  std::vector<int> tails;  // time units from the activity's end to the project's end, at least
};
[[nodiscard]] Surroundings surroundings_of(const Project& project);

/// Lengths no schedule can beat, in time units. Exact whole numbers; each is valid on its own.
struct ProjectBounds {
  int critical_path = 0;  // longest chain of activities that wait for each other
  int energy = 0;         // for the busiest resource: work times units over capacity, rounded up
  /// As `energy`, but only over the activities with a head of at least h and a tail of at least q,
  /// plus h and q, for every h and q and resource. Never below `energy`. Left at `energy` for
  /// projects of more than 400 activities, where it would cost more than it tells.
  int energy_between = 0;

  [[nodiscard]] int best() const;
};
[[nodiscard]] ProjectBounds bounds_of(const Project& project);

}  // namespace rollwright::plan
