#pragma once

#include <string>
#include <vector>

#include "plan/promise.hpp"
#include "shop/reckoned.hpp"
#include "shop/what_if.hpp"
#include "supply/lead_time.hpp"

/// What a shop could do so that one bike is ready sooner.
namespace rollwright::shop {

struct Way {
  std::string kind;  // as in WayView
  std::string what;
  std::string note;
  Money price;       // more than as it is
  bool price_is_most = false;
  WhatIf change;
  trade::SlotId slot;
  trade::PartId part;
};

/// The bike as it stands (or would stand, after other ways were taken) and what holds it.
struct Standing {
  const trade::Trade& trade;
  const State& state;
  const trade::Order& order;         // of `state`
  const WorkshopInput& workshop;
  const plan::Promise& promise;      // of the order, in that workshop
  const Reckoned& reckoned;          // of the order as it is: which parts are open, when they come
  const supply::LeadTimes& lead_times;
  LocalTime now;
};

/// Ways that touch something that holds the bike in 2 of 100 draws or more.
///
/// - freight: another mode that the supplier offers (shop/freight.hpp), at what it costs more.
/// - other supplier: what is on order, bought once more from who sends it sooner; its price is that
///   of the whole new purchase with freight, for the first one stays on order and goes to the shelf.
/// - other part: open in the slot beside the other choices, here sooner than the one that holds; the
///   cheapest and the soonest of them. Price: what the rider pays more.
/// - borrow: supply::possible_loans to this order.
/// - longer days: one person who could do what waits for a person ends two hours later, on no day
///   with more than ten hours, until the day that is kept in half the draws. Price: at most those
///   hours at the shop's hourly rate and a quarter more (an assumption; the quarter is common
///   practice, from memory).
/// - first: it is taken up before all other orders.
[[nodiscard]] std::vector<Way> ways_sooner(const Standing& standing);

}  // namespace rollwright::shop
