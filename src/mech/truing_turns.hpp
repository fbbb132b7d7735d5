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
  bool hard = false;  // no choice may pass `most`, or rise further where the wheel is past it already
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
/// Method:    from nothing, and again from the rounded smooth answer: the single quarter or the pair
///            that lowers the excess most per quarter; then drops quarters, and swaps two for one,
///            while the excess stays.
/// Accuracy:  a search: tests compare it with enumeration. Time: milliseconds for 36 spokes.
[[nodiscard]] TurnChoice fewest_turns(const TurnProblem& problem);

/// Sum of squared excess of `quarters` (any numbers, also fractions).
[[nodiscard]] double excess_of(const TurnProblem& problem, const std::vector<double>& quarters);

/// Quarters as real numbers, without bound for one pass, that make the excess least: when that is not
/// zero, no turns at all reach the bounds.
///
/// Method:    Newton steps on the rows outside, damped, with halving; convex, so the least is global
///            up to `floating` bands' middles, which are unknowns of their own here.
[[nodiscard]] std::vector<double> smooth_turns(const TurnProblem& problem);

}  // namespace rollwright::mech
