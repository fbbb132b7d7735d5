#pragma once

#include <vector>

namespace rollwright::supply {

/// Deliveries that run late together: the lines that one supplier is asked for in one week.
struct LateTogether {
  double correlation = 0;  // of their normal scores, 0 to 0.95 (LeadTimes::late_together)
  std::vector<double> there;  // for each line, the chance by itself of being there on the day, 0..1
};

/// Chance that all parts of a kit are there on the day.
///
/// Method:   between groups independent; within one group one normal factor: given that the
///           supplier's week has luck z, each line is there with Phi((Phi^-1(p) - sqrt(r) z) /
///           sqrt(1 - r)), independently of the others. Integral over z by trapezoids.
/// Source:   [kit] in docs/sources.md.
/// Accuracy: 1e-6 for the model; the plain product when the correlation is 0.
/// Ignores:  that all suppliers may be late together (a strike, a closed port).
[[nodiscard]] double all_there(const std::vector<LateTogether>& groups);

}  // namespace rollwright::supply
