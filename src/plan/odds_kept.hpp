#pragma once

#include <string>
#include <utility>
#include <vector>

#include "plan/promise.hpp"

namespace rollwright::plan {

/// Where in its own odds a promise of the past came out.
struct PlaceKept {
  /// Odds said, on the day of the promise, for being ready before the day on which it was; of a
  /// bike that is not ready yet, before the first day on which it can be. 0 to 1. Were the odds
  /// true, this would lie evenly between 0 and 1; a day told with odds q was kept when it is less
  /// than q.
  double odds = 0;
  bool still_open = false;  // then it is at least so much
  double weight = 1;        // 0 to 1: less for what is long ago
};

/// What odds are worth, by how the shop's own promises came out.
///
/// Method:   the odds said for the day of each past promise (probability integral transform), with
///           kPriorWeight more that lie evenly, as if so many had come out just as said. Of a bike
///           that is not ready yet, all that is known is that its place is no less than the odds of
///           today: its weight goes to the places above, as theirs are (redistribution to the
///           right, the estimator of Kaplan and Meier). So the early finishers of a young record do
///           not speak for the late ones.
/// Source:   [pit], [kaplan-meier], [conformal] in docs/sources.md.
/// Accuracy: were the places of coming promises drawn as those of the past, a day told at
///           `to_ask(p)` is kept in p of them, give or take 1 / (n + kPriorWeight). Promises of one
///           week share their luck, so that p is met over years rather than months.
/// Needs:    that parts are bought so that a late kit is rarer than 1 - p. Whoever buys for the
///           very day told, and gets a kit in time only in p of all cases, is ready only just before
///           it whatever day that is: the record then asks for later days without end.
/// Bound:    what came later than all draws counts as on the last day drawn: odds of 1 stay 1.
class OddsKept {
 public:
  static constexpr double kPriorWeight = 25;

  explicit OddsKept(const std::vector<PlaceKept>& places = {});

  /// Share kept of the days that were told with odds `said`; never falls, 0 at 0 and 1 at 1.
  [[nodiscard]] double kept(double said) const;
  /// The least odds to ask for so that `wanted` is kept.
  [[nodiscard]] double to_ask(double wanted) const;

  [[nodiscard]] int ready() const { return ready_; }
  [[nodiscard]] int still_open() const { return still_open_; }

 private:
  std::vector<std::pair<double, double>> below_;  // place, share of the weight up to and with it
  int ready_ = 0;
  int still_open_ = 0;
};

/// What a promise of that day weighs: half as much for every quarter of a year that it is old, for
/// the odds of today are reckoned with what was learned since.
[[nodiscard]] double weight_of_age(Day said, Day today);

/// The odds said for being ready before `day`.
[[nodiscard]] double said_before(const std::vector<CurvePoint>& curve, Day day);

/// The promise with its curve as worth by the record: the days of 50 to 95 in 100 move with it.
/// What each draw gave stays.
[[nodiscard]] Promise as_kept(Promise promise, const OddsKept& odds);

}  // namespace rollwright::plan
