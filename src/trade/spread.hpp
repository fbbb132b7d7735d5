#pragma once

#include <string>

namespace rollwright::trade {

/// How long something takes when nobody can say exactly: lead times, freight legs, hands-on minutes.
/// A shifted lognormal: `least` plus a lognormal with the given median and sigma of its logarithm.
/// Right-skewed, as delivery times are. Whole unit chosen by the owner of the value (working days
/// for lead times, minutes for work).
///
/// Range: least >= 0; median >= 0; sigma in [0, 2]. Sigma 0 means certain: exactly least + median.
struct Spread {
  double least = 0;
  double median = 0;
  double sigma = 0;
  std::string basis;  // where it comes from, in words: "14 receipts from Nordal, hubs"
};

/// Value not exceeded with probability `p` in (0, 1).
[[nodiscard]] double quantile(const Spread& spread, double p);
/// Value at the standard normal number `z`; quantile(s, p) = at_normal(s, inverse normal of p).
[[nodiscard]] double at_normal(const Spread& spread, double z);
/// Inverse of the standard normal distribution, p in (0, 1).
/// Method:   Abramowitz and Stegun 26.2.23 as a start, then Halley steps. Accuracy: about 1e-13.
[[nodiscard]] double inverse_normal(double p);

}  // namespace rollwright::trade
