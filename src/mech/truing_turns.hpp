#pragma once

#include <vector>

namespace rollwright::mech {

/// Rows that must lie within bounds, each a straight-line function of the quarter turns.
struct TurnBand {
  std::vector<double> now;                  // by row
  std::vector<std::vector<double>> change;  // [spoke][row], for one quarter turn
  double least = 0;                         // bounds of every row; with `floating`, of the distance
  double most = 0;                          // from the middle between greatest and least row
  bool floating = false;
  bool hard = false;  // no choice ends past `most`, or higher where the wheel is past it already
  double scale = 1;   // excess that counts as one
};

struct TurnProblem {
  int spokes = 0;
  int most_quarters = 4;
  std::vector<TurnBand> bands;
};

struct TurnChoice {
  std::vector<int> quarters;  // by spoke
  int count = 0;              // of quarters, either way
  double excess = 0;          // sum of squares of what stays outside, in scales; 0 is inside
};

/// Few whole quarter turns that bring all rows inside their bounds, or as near as they get.
///
/// Method:    starts from nothing and from the best lattice points (mech/truing_lattice.hpp); from
///            each, the quarter or pair of quarters that lowers the excess most for each one added,
///            then drops quarters and swaps two for one while the excess stays.
/// Source:    our own. Accuracy: a search: tests compare it with enumeration.
[[nodiscard]] TurnChoice fewest_turns(const TurnProblem& problem);
/// Up to `count` different choices, the best first: least excess, then fewest quarters.
[[nodiscard]] std::vector<TurnChoice> turn_choices(const TurnProblem& problem, std::size_t count);

/// Whether `quarters` keep to the hard bands.
[[nodiscard]] bool permitted(const TurnProblem& problem, const std::vector<int>& quarters);
/// Sum of squared excess of `quarters` (any numbers, also fractions).
[[nodiscard]] double excess_of(const TurnProblem& problem, const std::vector<double>& quarters);

}  // namespace rollwright::mech
