#include "trade/spread.hpp"

#include <cmath>

#include "base/result.hpp"

namespace rollwright::trade {

double inverse_normal(double p) {
  ROLLWRIGHT_PROMISE(0 < p && p < 1);
  // A rational start (Abramowitz and Stegun 26.2.23, error below 4.5e-4) sharpened by Halley steps
  // on the complementary error function, which the standard library gives to full precision.
  const double tail = p < 0.5 ? p : 1 - p;
  const double t = std::sqrt(-2 * std::log(tail));
  double z = t - (2.515517 + t * (0.802853 + t * 0.010328)) /
                     (1 + t * (1.432788 + t * (0.189269 + t * 0.001308)));
  for (int step = 0; step < 3; ++step) {
    const double upper = 0.5 * std::erfc(z / std::sqrt(2.0));
    const double density = std::exp(-z * z / 2) / std::sqrt(2 * 3.14159265358979323846);
    const double newton = (upper - tail) / density;
    z += newton / (1 - z * newton / 2);
  }
  return p < 0.5 ? -z : z;
}

double at_normal(const Spread& spread, double z) {
  return spread.least + spread.median * std::exp(spread.sigma * z);
}

double quantile(const Spread& spread, double p) { return at_normal(spread, inverse_normal(p)); }

}  // namespace rollwright::trade
