#pragma once

#include <set>

#include "build/bench_state.hpp"
#include "build/life_facts.hpp"
#include "shop/state.hpp"
#include "trade/sheet.hpp"
#include "trade/trade.hpp"

/// What decides the moves of one order, from the book.
namespace rollwright::shop {

struct LifeAt {
  const trade::Trade& trade;
  const State& state;
  const trade::BuildTemplate& build;
  const trade::Order& order;
  Day today = {};
};

/// Everything but the settlement and what is said; as if somebody of every hat moved it. `sheet` is
/// that of the order, `bench` what its record makes of it.
///
/// Operations that were done before there was a record count as done with their readings.
[[nodiscard]] build::LifeFacts life_facts(const LifeAt& at, const trade::Sheet& sheet,
                                          const build::BenchState& bench);

/// What a person may do: the desk advises, buys and takes goods in; the bench works from L2 and
/// takes goods in; L3 leads and signs as second person; a battery is packed with valid training.
[[nodiscard]] std::set<build::Hat> hats_of(const trade::Person& person, bool electric);

/// The facts when this person moves the order.
[[nodiscard]] build::LifeFacts as_moved_by(build::LifeFacts facts, const trade::Person& person);

/// Purchase lines for the order with pieces to come or in quarantine.
[[nodiscard]] std::vector<const trade::PurchaseLine*> open_lines(const State& state,
                                                                 const trade::OrderId& order);

/// The newest move of an order to this state, or null.
[[nodiscard]] const trade::OrderMoved* last_move_to(const State& state,
                                                    const trade::OrderId& order,
                                                    trade::OrderState to);

}  // namespace rollwright::shop
