#pragma once

#include <functional>

#include "plan/project.hpp"
#include "plan/serial_schedule.hpp"

namespace rollwright::plan {

struct ProofLimits {
  long long most_conflicts = 1'000'000;
  /// Asked now and then; true ends the search. Empty: nobody is asked. A clock in here makes what
  /// is proved in time depend on the machine, but never what is said to be proved.
  std::function<bool()> stop = {};
};

struct ProvedProject {
  Schedule best;
  int lower_bound = 0;      // no schedule is shorter
  long long conflicts = 0;  // dead ends that the search learned from
  [[nodiscard]] bool proved() const { return best.makespan <= lower_bound; }
};

/// Most pairs of activity and start that an exact search takes on, which bounds its memory. Beyond,
/// `prove_project` gives the schedule it was given back with the bounds of `bounds_of`.
inline constexpr long long kMostStartClaims = 4'000'000;

/// Shortens a schedule until it is proved that none is shorter.
///
/// Method:   depth-first search for a schedule shorter by one, over claims "starts at v or later"
///           and their denials, with propagation of waiting and of what surely runs (TimeTable).
///           Each dead end is traced back to a clause that rules it out for good; the claims most
///           often met there are decided first; restarts. When nothing is left open, the last
///           schedule found is the shortest.
/// Source:   lazy clause generation for this problem: A. Schutt, T. Feydy, P. Stuckey, M. Wallace,
///           Constraints 16 (2011); learning: J. Marques-Silva, K. Sakallah 1996, M. Moskewicz and
///           others 2001 (all from memory).
/// Repeats:  the same project, start and count of conflicts give the same schedule and bound.
/// Accuracy: `lower_bound` is exact when `proved()`, and valid always. Checked against trying every
///           list on small projects and against the open library's optima.
/// `known`:  any feasible schedule, by preference a good one.
[[nodiscard]] ProvedProject prove_project(const Project& project, Schedule known,
                                          const ProofLimits& limits = {});

}  // namespace rollwright::plan
