#pragma once

#include <vector>

#include "plan/line.hpp"

namespace rollwright::plan {

/// Another way to count work: no station of the given takt can hold more than `whole`, however its
/// tasks are chosen. The sum over all tasks over `whole` is then a bound on the stations.
struct WorkMeasure {
  std::vector<long long> work;  // of each task
  long long whole = 0;
};

/// The plain times first, then measures that count large tasks fully and small ones less, those
/// that say most first; at most `most`. Covers the counting of tasks above a half and above a
/// third of the takt.
///
/// Source: dual feasible functions: S. Fekete and J. Schepers, Math. Programming 91 (2001); S.
///         Martello and P. Toth, Knapsack Problems (1990): L2. Both from memory.
[[nodiscard]] std::vector<WorkMeasure> work_measures(const Line& line, int takt, std::size_t most);

/// Time that the line needs behind each task's station, at least, in time units of which `takt`
/// make a station; when the task cannot share the last of it, rounded up to whole stations.
///
/// Source: R. Johnson, Management Science 34 (1988), from memory: one machine with tails.
[[nodiscard]] std::vector<long long> work_behind(const Line& line, int takt);

/// A number of stations that no balance can go below. `takt` is at least the longest time.
[[nodiscard]] int least_stations(const Line& line, int takt);

}  // namespace rollwright::plan
