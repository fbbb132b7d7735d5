#pragma once

#include <vector>

namespace rollwright::supply {

/// A part that a kit cannot do without and that is not in hand yet.
struct KitPart {
  /// Chance of being here within so many working days: from ordering it for a part to buy, from
  /// today for one under way (DayOdds::by). Not empty; read, not kept.
  const std::vector<double>* by = nullptr;
  double cost = 0;      // of the pieces, any currency, at least 0
  bool to_buy = true;
};

/// What is known of a kit when its parts are ordered.
struct KitQuestion {
  std::vector<KitPart> parts;
  double in_hand = 0;      // cost of its parts that are here
  int until = 0;           // working days from today to the day on which it has to be complete
  double confidence = 0.9; // with which it is, in (0, 1)
  /// What paying a day later is worth, beside a day on the shelf: 0 to 1. It settles which of
  /// several sets of days is taken that wait on the shelf alike, for the later.
  double paid_later = 0.05;
};

struct KitDays {
  std::vector<int> wait;  // by part: working days from today until it is best ordered; 0 for one
                          // that is under way
  double complete = 0;    // chance that all are here within `until` days
  double shelf_days = 0;  // cost times working days that parts lie until the last one has come
};

/// Days on which the parts of a kit are best ordered: money lies on the shelf the shortest while
/// the kit is complete in time with the confidence.
///
/// Method:   parts lie from their day until the last one's. The mean of that, less what paying
///           later is worth, is a convex function of the days (the later of two sums is convex, and
///           a mean of such); what the confidence asks is the sum of the logarithms of the parts'
///           chances, each of its own day alone. So: the least of the one plus a multiplier times
///           the other, one part at a time and all to buy together, by steps that are halved; the
///           multiplier by bisection, the smallest with which the confidence is met.
///           At the best days, without the confidence, each part is the one waited for as often as
///           its share of the kit's cost: a frame may be late more often than a brake pad, and
///           what has come early calls in the rest.
/// Source:   the condition follows by differentiating; [kit] in docs/sources.md for the model.
/// Accuracy: against all sets of days for small kits, within 1 in 100 of the least (tested).
/// Ignores:  deliveries that are late together; work at the bench, which may begin later.
/// Errors:   none; when no days keep the confidence, `complete` says what the soonest days give.
[[nodiscard]] KitDays kit_days(const KitQuestion& question);

}  // namespace rollwright::supply
