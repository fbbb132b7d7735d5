#pragma once

#include "shop/state.hpp"
#include "spec/bests.hpp"
#include "supply/lead_time.hpp"
#include "supply/needs.hpp"
#include "trade/trade.hpp"

namespace rollwright::shop {

/// For each part that somebody sells: the day on which it is here when it is bought now.
///
/// Method:   the sooner of its offers; an order placed after the supplier's cut-off, or on a day
///           that is none, counts from the next working day.
[[nodiscard]] spec::Arrivals bought_now(const State& state, const supply::LeadTimes& lead_times,
                                        const LocalTime& now);

struct ArrivalsQuestion {
  const trade::BuildTemplate& build;
  const trade::Order& order;
  /// Of the orders that gather parts and of this one, so that no piece is promised twice.
  const std::vector<supply::Cover>& covers;
  const spec::Arrivals& bought_now;
};

/// The day on which each part of the catalogue can be here for one order, at the confidence of the
/// shop's settings (`promise_confidence`). A part that nobody sells and that is not here is absent.
///
/// Method:   today when it is on the bike, put by for the order, or free on the shelf in as many
///           pieces as the slot takes; else the day of a purchase for the order; else the sooner of
///           a free purchase under way and buying it now.
/// Accuracy: each part is taken at that confidence by itself. A bike waits for the latest of many
///           parts, so it is there on the day with less than that confidence when several parts
///           arrive near the end; the promise, which draws all of them together, says how much
///           less.
/// Ignores:  that two slots may take the same part; that the pieces of one slot may come from the
///           shelf and from a purchase; which days of the week a supplier ships on (learned lead
///           times hold the wait for them already).
[[nodiscard]] spec::Arrivals arrivals_for(const trade::Trade& trade, const State& state,
                                          const supply::LeadTimes& lead_times, const LocalTime& now,
                                          const ArrivalsQuestion& question);

}  // namespace rollwright::shop
