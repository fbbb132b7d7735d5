#pragma once

#include "plan/odds_kept.hpp"
#include "plan/orders_to_come.hpp"
#include "shop/state.hpp"
#include "shop/workshop_input.hpp"
#include "trade/promise_said.hpp"

/// What the shop's own promises of the past teach those of today.
namespace rollwright::shop {

/// How the odds said so far came out. A promise counts when it is known on what day its bike was
/// ready, or when the bike's order is open in the book; its place is read off the odds kept with
/// it, or, where there are none, off the lognormal through its days of five and nine in ten.
[[nodiscard]] plan::OddsKept odds_kept(const State& state, Day today);

/// How orders came in during the last half year: as often, and told a day as far off, as the
/// promises on record; their work as that of the same order in the workshop, or of one by turns.
[[nodiscard]] plan::OrdersSeen orders_seen(const State& state, const WorkshopInput& workshop,
                                           Day today);

/// The odds to be kept with a promise: at most one day for each hundredth.
[[nodiscard]] std::vector<std::pair<Day, int>> odds_said(const plan::Promise& simulated);

/// With what odds a promise tells its own day.
inline constexpr double kToldAt = 0.9;

/// A promise with its odds as the record makes them.
struct PromiseReckoned {
  WorkshopInput workshop;
  int index = 0;               // of the order asked about
  plan::OddsKept odds;
  plan::Promise simulated;     // by the simulation alone
  plan::Promise promise;       // set right
};

/// Errors: kRefused for an order without an operation left to do; those of plan::promise.
[[nodiscard]] Result<PromiseReckoned> reckon_promise(const trade::Trade& trade, const State& state,
                                                     const trade::Order& order,
                                                     const LocalTime& now,
                                                     const plan::PromiseOptions& options);

}  // namespace rollwright::shop
