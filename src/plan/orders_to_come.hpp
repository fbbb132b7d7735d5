#pragma once

#include <optional>
#include <utility>
#include <vector>

#include "plan/promise.hpp"
#include "plan/workshop.hpp"

/// Orders that nobody has agreed yet, and the turn of one to which no day was told yet: of two
/// bikes that could be taken up, the one promised sooner goes first, also when it was agreed later.
namespace rollwright::plan {

/// What an order of the past asked of the bench, and how long it was given.
struct OrderSeen {
  struct Work {
    SkillSet any_of = 0;
    int area = 0;
    double minutes = 0;
  };
  std::vector<Work> work;  // one after the other
  int told_after = 0;      // days from agreeing to the day told, at least 1
  int kit_after = 0;       // days from agreeing to its parts
};

/// How orders have come in.
struct OrdersSeen {
  std::vector<OrderSeen> orders;
  double a_day = 0;  // agreed per day of the calendar
};

/// The work of an order of the input, done or not: one piece for each set of skills, in the order
/// in which they are first asked for, in the area where most of it is.
[[nodiscard]] std::vector<OrderSeen::Work> work_of(const PlanInput& input, int order);

/// Those agreed in the last half year: each with the day on which it was agreed.
[[nodiscard]] OrdersSeen seen_lately(const std::vector<std::pair<Day, OrderSeen>>& orders,
                                     Day today);

/// Puts in the orders still to come that would be told a day before `before`: others go later.
///
/// Method:  places for orders at even distances from now on, each taken in three of five draws, so
///          that in the mean as many come as the shop is used to; which of the past orders each is
///          like depends on its place only. Their work stands in one piece for each set of skills.
/// Bound:   at most kMostToCome; none while fewer than kFewestSeen are known of the past.
/// Ignores: seasons; that how many come in one week may vary more than this.
void add_orders_to_come(PlanInput& input, const OrdersSeen& seen, Day before);
inline constexpr int kMostToCome = 40;
inline constexpr std::size_t kFewestSeen = 12;

/// The first day with odds `told_at` in (0, 1] for an order to which none was told, when it takes
/// its turn by that very day and orders to come by theirs; none when it is not within the horizon.
/// The day told, for one that was told.
///
/// Method:  two rounds with a twentieth of the draws (25 at least): first behind all promised
///          orders, then by the day found. Who is told sooner goes first, so each round is no later
///          than the one before.
/// Errors:  those of promise().
[[nodiscard]] Result<std::optional<Day>> day_in_turn(const PlanInput& input, int order,
                                                     const OrdersSeen& seen, double told_at,
                                                     const PromiseOptions& options);

/// The input in which that order is told `day`, unless it was told one already, with the orders to
/// come that would go before the last of all days told: whoever is asked about, they are the same.
[[nodiscard]] PlanInput in_turn(const PlanInput& input, int order, const OrdersSeen& seen, Day day);

/// The curve of one order that takes its turn so.
/// Errors: those of promise().
[[nodiscard]] Result<Promise> promise_in_turn(const PlanInput& input, int order,
                                              const OrdersSeen& seen, double told_at,
                                              const PromiseOptions& options);

}  // namespace rollwright::plan
