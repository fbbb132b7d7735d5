#pragma once

#include <map>
#include <vector>

#include "supply/day_odds.hpp"

namespace rollwright::supply {

/// What is believed of a kind of part before any receipt, and the receipts of it from one supplier.
struct LeadHistory {
  double middle_days = 5;    // of the kind's row; at least 0.5
  double sigma = 0.6;        // of the logarithm, over all suppliers and deliveries; 0.05 to 2
  std::map<int, int> days;   // working days it took (0 counts as 1) -> how many receipts
  std::map<int, int> open;   // working days that a line has waited, not here yet -> how many lines
};

/// One way in which a supplier may stand with a kind, and how likely that is.
struct LeadNode {
  double log_middle = 0;  // of working days
  double sigma = 0;       // of the logarithm
  double weight = 0;      // the weights of a belief sum to 1
};
/// What is believed of one supplier and kind once the receipts are read.
struct LeadBelief {
  std::vector<LeadNode> nodes;
  /// Of what was unsure about the middle before any receipt, how much still is: the ratio of the
  /// variances, 1 without receipts and near 0 with many.
  double unsure = 1;
};

/// Beliefs about one supplier, one for each of its kinds; a kind without receipts learns from the
/// others.
///
/// Method:   log days = row + sigma * (a + b + s * e). `a` is the supplier's way with all kinds,
///           `b` its way with this one, both normal; s is lognormal; e is normal, but in one delivery
///           of twenty three times as wide, so that one delivery gone astray moves little. The
///           variances of a, b and s * e are 25, 15 and about 60 in 100 of the row's: without
///           receipts the row itself comes out. A receipt of k days says that the time lay in
///           (k - 1, k]; a line that is still open after k days, that it lies beyond k (it is
///           censored on the right; left out, what is learned is too short, as the quick ones of a
///           month are received before its slow ones). Posterior of (b, s) for each kind on a grid that is finest where the
///           receipts are, of a on a grid over all kinds: exact but for the grid.
/// Source:   hierarchical normal model, [bayes], and the likelihood of censored times, [censored] in
///           docs/sources.md; shares, the one in twenty and the three are our own choice.
/// Accuracy: within 0.005 in probability of the same integral done by brute force; 50, 80 and 90 %
///           ranges of 600 simulated suppliers cover that share of deliveries within 3 in 100
///           (tested).
/// Ignores:  trend and season; that all suppliers of a kind may be late together; that a line may be
///           open because somebody forgot to book it in. Lines far beyond all that came count as gone
///           astray: they lengthen the tail, hardly the middle.
[[nodiscard]] std::vector<LeadBelief> learn(const std::vector<LeadHistory>& kinds);

/// Days of the next delivery: over all nodes, so that what is not known of the middle and of the
/// spread widens it.
[[nodiscard]] DayOdds next_delivery(const LeadBelief& belief);

/// Shares and tails of the model above, for whoever simulates it.
struct LeadModel {
  static constexpr double kSupplier = 0.5;     // sigma of a
  static constexpr double kKind = 0.387;       // sigma of b
  static constexpr double kWithin = 0.70;      // median of s
  static constexpr double kWithinSpread = 0.35;  // sigma of log s
  static constexpr double kAstray = 0.05;      // share of deliveries
  static constexpr double kAstrayWidth = 3;    // times as wide
};

}  // namespace rollwright::supply
