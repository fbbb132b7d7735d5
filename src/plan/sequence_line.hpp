#pragma once

#include <string>
#include <vector>

#include "base/result.hpp"

namespace rollwright::plan {

/// Limits of one day's sequence, so that every figure stays an exact whole number.
inline constexpr int kMostSequenced = 500;
inline constexpr int kMostLineStations = 100;
inline constexpr int kMostStationWork = 1'000'000;
/// Most sets of bikes already sent down the line that the exact method looks at.
inline constexpr long long kMostSequenceSets = 300'000;

/// One kind of bike among those that a line builds in a day.
struct LineModel {
  std::string name;        // used in sentences only
  int count = 0;           // bikes of the day, 0 or more
  std::vector<int> work;   // time units at each station, 0 or more
};

struct LineSequence {
  std::vector<int> models;  // of each bike in turn, as indices
  /// Sum, over every bike and station, of how far the work sent to the station so far is from an
  /// even pace over the day; in time units times the number of bikes, so that it is whole.
  long long unevenness = 0;
  bool proved = false;      // no sequence is more even
};

/// Order of a day's mixed bikes that keeps the work of every station even.
///
/// Method:   exact where few enough sets of bikes can have gone before (the unevenness of a set
///           does not depend on its order, so shortest ways over the sets suffice: dynamic
///           programming). Otherwise a heuristic without a proof: the next bike is always the one
///           that leaves the least unevenness (goal chasing), and then neighbours change places
///           while that helps.
/// Source:   Y. Monden (1983), goal chasing, and J. Miltenburg, Management Science 35
///           (1989), both from memory.
/// Ignores:  how far a mechanic may drift into the next station.
/// Errors:   kOutOfRange for a number outside the limits, kBadInput for models with different
///           numbers of stations.
[[nodiscard]] Result<LineSequence> level_sequence(const std::vector<LineModel>& models);

}  // namespace rollwright::plan
