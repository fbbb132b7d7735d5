#pragma once

#include <vector>

#include "trade/spread.hpp"

namespace rollwright::supply {

/// On how many working days from now something is here: a distribution over whole days.
///
/// `by[k]` is the probability that it is here within k working days; it never falls, and lies in
/// [0, 1]. What is missing from 1 at the end comes later than the table reaches. Empty: never.
struct DayOdds {
  std::vector<double> by;
};

/// Working days that a table reaches: two years.
inline constexpr int kOddsDays = 520;

/// Probability of being here within `days`; 0 before today.
[[nodiscard]] double within(const DayOdds& odds, int days);

/// Fewest working days within which it is here with probability `p` in (0, 1); kOddsDays + 1 when
/// the table does not reach so far.
[[nodiscard]] int days_for(const DayOdds& odds, double p);

/// Given that it was not here `gone` days after the start: days from then on. Negative `gone` is before
/// the start.
///
/// Method:   exact truncation: P(k more days) = (by[gone + k] - by[gone]) / (1 - by[gone]). A hub
///           that has been on order for twice its usual time is not due tomorrow: what is left is
///           what the slow deliveries took.
/// Errors:   none; when the table holds nothing beyond `gone`, the answer is never within it.
[[nodiscard]] DayOdds given_not_yet(const DayOdds& odds, int gone);

/// One after the other: the sum of two independent waits. Method: convolution, exact.
[[nodiscard]] DayOdds then(const DayOdds& first, const DayOdds& second);

/// So many working days later, or sooner when negative; nothing comes before tomorrow.
[[nodiscard]] DayOdds moved(const DayOdds& odds, int days);

/// `share` in [0, 1] of the time the one, else the other.
[[nodiscard]] DayOdds mixed(const DayOdds& one, const DayOdds& other, double share);

/// The shifted lognormal nearest to the odds, for whoever draws from a spread and rounds up.
///
/// Method:   the day itself spread evenly over its number (k - 1, k]; 50, 84.1 and 97.7 in 100 are
///           met exactly, which fixes the three numbers in closed form. Where that would begin
///           before now or lean to the early side, 50 and 90 in 100 are met instead.
/// Accuracy: the upper half is what a promise lives on: for the odds that learned lead times give,
///           no day above the middle is off by more than 0.06 in probability, most on the first
///           day (tested).
[[nodiscard]] trade::Spread spread_like(const DayOdds& odds);

}  // namespace rollwright::supply
