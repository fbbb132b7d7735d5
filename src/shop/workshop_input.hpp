#pragma once

#include <map>
#include <optional>
#include <vector>

#include "plan/calendar.hpp"
#include "plan/workshop.hpp"
#include "shop/state.hpp"
#include "trade/trade.hpp"

/// The shop's open orders as the planner sees them: the bridge from a state to the plan engine.
namespace rollwright::shop {

struct WorkshopInput {
  plan::PlanInput input;
  std::vector<const trade::Order*> orders;             // parallel to input.orders
  std::vector<const trade::Operation*> operations;     // parallel to input.tasks
  std::vector<std::vector<int>> orders_of_arrival;     // parallel to input.arrivals
  std::vector<bool> arrival_confirmed;
  /// What arrives: the part, and the purchase it comes with (empty: not bought yet).
  struct Arriving {
    trade::PartId part;
    std::string purchase;
  };
  std::vector<Arriving> arriving;                      // parallel to input.arrivals
  /// (order index, part) of parts that are needed, not here, and on no supplier's list. No arrival
  /// stands for them: who shows a plan or a promise has to say so.
  std::vector<std::pair<int, std::string>> nobody_sells;
  /// (order index, operation) of work that takes more people at once than the shop has. It is planned
  /// with all there are: who shows a plan or a promise has to say so.
  std::vector<std::pair<int, std::string>> short_of_hands;
};

/// All agreed orders that are not ready yet, and `also` (an offer, say) as if it were agreed today.
///
/// - Operations that apply and are not done become tasks, but for the handover itself, which is an
///   appointment with the rider and not part of the queue.
/// - A kit is put together when every part that may not follow is in hand: arrivals hold G-30 (the
///   maker's bike: N-10); parts that may follow hold the torque audit T-10.
/// - Arrivals: confirmed purchases by the supplier's history of keeping days; unconfirmed ones by
///   what is left of the learned lead time; parts not bought as if bought today (after the
///   supplier's cut-off: on the next working day) from whoever is soonest. The whole odds are given,
///   and how much the supplier's deliveries are late together.
/// - Operations that take several people at once are planned with as many (with all there are, where
///   the shop has fewer).
/// - Minutes: learned from the times taken (minutes_of).
/// - People, illness, leave that nobody has told: workshop_pieces.hpp.
/// - The first day is today, or an earlier one when given: `now` then lies on a later day.
/// - A second person checks: who checks an operation marked so did neither the steering nor the
///   brakes of this bike.
[[nodiscard]] Result<WorkshopInput> workshop_input(const trade::Trade& trade, const State& state,
                                                   const LocalTime& now,
                                                   const trade::Order* also = nullptr,
                                                   std::optional<Day> first_day = {});

/// Whether the planner has anything left to place for this order: an operation that applies, is not
/// done and is not the handover.
[[nodiscard]] Result<bool> is_work_left(const trade::Trade& trade, const State& state,
                                        const trade::Order& order);

}  // namespace rollwright::shop
