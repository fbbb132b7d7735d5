#pragma once

#include <vector>

/// How long an operation takes at this shop: the range that the trade states, and the times that
/// were taken at the bench.
namespace rollwright::plan {

/// The range as a trade states it: one in ten takes less than `low`, one in ten more than `high`.
struct MinutesRange {
  double low = 0;   // > 0
  double high = 0;  // >= low
};

struct LearnedMinutes {
  double median = 0;  // hands-on minutes of the next time
  double sigma = 0;   // of the logarithm, so that 8 in 10 of the next times are between the two below
  double low = 0;     // one in ten takes less
  double high = 0;    // one in ten takes more
  int times = 0;      // taken, that this rests on
  int astray = 0;     // of these so far off that they were counted as three sigmas off
};

/// What the next time is likely to be. Without times taken the range itself comes out.
///
/// Method:   log minutes are normal, mean and variance unknown, with a normal-inverse-gamma prior
///           about the range, worth four times taken for the mean and six for the variance; the
///           next time is then Student's t, given here as the lognormal with its median and its 10
///           and 90 %. A time more than three of the range's sigmas off the usual (the median of
///           all times) counts as three: a clock that nobody stopped moves little.
/// Source:   conjugate normal model, [bayes] in docs/sources.md; the weights are our own choice.
/// Ignores:  who did it, learning over the months.
/// `taken`:  hands-on minutes, each above 0; others are a broken promise.
[[nodiscard]] LearnedMinutes learned_minutes(const MinutesRange& range,
                                             const std::vector<double>& taken);

}  // namespace rollwright::plan
