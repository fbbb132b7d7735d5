#pragma once

#include <algorithm>
#include <cmath>

namespace rollwright::mech {

/// A function's value and its derivative at one place.
struct ValueAndSlope {
  double value = 0;
  double slope = 0;
};

/// The root of a strictly rising function between two places; the nearer end when it lies outside.
///
/// Method:    Newton from `start`; where a step leaves the bracket, its middle instead, so that
///            kinks and flat pieces cannot throw it off. An end is looked at only when a step
///            passes it.
/// Accuracy:  the last step, which is still taken, moves the place by less than `least_step` of
///            itself; the error left is about its square, but as large as it where the function has
///            a kink just there.
template <class Rising>
[[nodiscard]] double rising_root(double low, double high, double start, const Rising& function,
                                 double least_step = 1e-13) {
  bool low_known = false;  // the root is known to lie above
  bool high_known = false;
  double at = std::clamp(start, low, high);
  for (int round = 0; round < 200; ++round) {
    const ValueAndSlope here = function(at);
    const double step = here.value / here.slope;
    if (std::fabs(step) <= least_step * std::fabs(at)) return std::clamp(at - step, low, high);
    (here.value < 0 ? low : high) = at;
    (here.value < 0 ? low_known : high_known) = true;
    double next = at - step;
    if (!(low < next && next < high)) {
      if (here.value < 0 && !high_known && function(high).value <= 0) return high;
      if (here.value > 0 && !low_known && function(low).value >= 0) return low;
      low_known = high_known = true;
      next = low + (high - low) / 2;
    }
    if (next == at) return at;  // the bracket is two neighbouring numbers
    at = next;
  }
  return at;
}

}  // namespace rollwright::mech
