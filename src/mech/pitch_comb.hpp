#pragma once

#include <optional>
#include <vector>

#include "mech/pitch_spectrum.hpp"

namespace rollwright::mech {

/// The tones of one string: partial k lies at k F sqrt(1 + B k^2). F and B are fitted; B is 0 for a
/// limp string, up to 0.06 for a short thick spoke.
struct Comb {
  double lowest_hz = 0;              // partial 1, heard or not
  double stiffness = 0;              // B
  int heard = 0;                     // how many partials
  std::optional<TonePeak> lowest;    // partial 1 when it was heard
  std::vector<TonePeak> partials;    // those heard, by number
  std::vector<int> numbers;          // of those, from 1
  double score = 0;                  // how much of what stands out it explains
};

/// Where the lowest pitch is looked for.
struct CombAsked {
  double least_hz = 0;
  double most_hz = 0;
  double most_stiffness = 0;
  double bin_hz = 0;  // of the spectrum the peaks come from
};

/// The comb that explains the peaks best, and the best one that is another pitch (more than 4 %
/// away), to judge how clear the first is.
///
/// Method:    the loudest peak as each of partials 1 to 5, over a grid of stiffness; peaks
///            explained count by the power 0.7 of their amplitude, partials missing below the
///            highest heard count against.
/// Source:    [pluck-pitch] in docs/sources.md.
/// Ignores:   bars, bells and beams, whose tones lie elsewhere. No peaks, no combs.
struct Combs {
  std::optional<Comb> best;
  std::optional<Comb> other;
};
[[nodiscard]] Combs best_combs(const std::vector<TonePeak>& peaks, const CombAsked& asked);

/// Partial `number` of a comb whose first lies at `lowest_hz`.
[[nodiscard]] double partial_hz(double lowest_hz, double stiffness, int number);

}  // namespace rollwright::mech
