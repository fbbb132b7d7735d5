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
/// Accuracy:  the last step moved the place by less than 1e-13 of itself.
template <class Rising>
[[nodiscard]] double rising_root(double low, double high, double start, const Rising& function) {
  bool low_known = false;  // the root is known to lie above
  bool high_known = false;
  double at = std::clamp(start, low, high);
  for (int round = 0; round < 200; ++round) {
    const ValueAndSlope here = function(at);
    const double step = here.value / here.slope;
    if (std::fabs(step) <= 1e-13 * std::fabs(at)) return std::clamp(at - step, low, high);
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
