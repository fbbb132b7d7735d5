#pragma once

#include <functional>

#include "plan/line.hpp"

namespace rollwright::plan {

struct BalanceLimits {
  long long most_steps = 200'000'000;  // tasks put onto stations, in all searches together
  /// Asked now and then; true ends the work with what is known. Empty: nobody is asked. A clock
  /// in here makes what is proved in time depend on the machine, never what is said to be proved.
  std::function<bool()> stop = {};
};

struct LineBalance {
  Stations station_of;  // of each task, from 0
  int stations = 0;
  int takt = 0;         // most work of a station, or the takt that was given
  int lower_bound = 0;  // of the stations for a given takt, or of the takt for given stations
  long long steps = 0;
  bool proved = false;  // no balance is better
};

/// The fewest stations for a takt (SALBP-1).
///
/// Method:   a first balance by a rule (the task with most work behind it first, from both ends),
///           then searches (LineSearch) for one station fewer, from the front and from the end in
///           turn, each with more effort than the last, until one finds a balance or shows that
///           there is none; bounds by `least_stations`.
/// Repeats:  the same line and limits give the same balance, unless `stop` ends it.
/// Accuracy: `proved` says whether the number is the least; `lower_bound` is valid always. Compared
///           in tests with trying every assignment, and with published numbers of stations.
/// Errors:   kContradiction for a task that takes longer than the takt, kOutOfRange for a takt
///           below 1.
[[nodiscard]] Result<LineBalance> fewest_stations(const Line& line, int takt,
                                                  const BalanceLimits& limits = {});

/// The shortest takt for so many stations (SALBP-2), by asking for one takt after another whether
/// the stations suffice. Errors: kOutOfRange for fewer than 1 station.
[[nodiscard]] Result<LineBalance> shortest_takt(const Line& line, int stations,
                                                const BalanceLimits& limits = {});

}  // namespace rollwright::plan
