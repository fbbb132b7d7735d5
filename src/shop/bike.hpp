#pragma once

#include "build/facts.hpp"
#include "shop/state.hpp"
#include "spec/bike.hpp"
#include "spec/complete.hpp"
#include "spec/problem.hpp"
#include "trade/trade.hpp"

/// An order of the book as the engines see it. The state and the trade must outlive what is made.
namespace rollwright::shop {

/// Errors: kDamaged when the order's build is not in the trade data any more.
[[nodiscard]] Result<const trade::BuildTemplate*> build_of(const trade::Trade& trade,
                                                           const trade::Order& order);

/// Chosen parts that the catalogue does not know (taken out by hand) are left out.
[[nodiscard]] spec::Bike bike_of(const State& state, const trade::Order& order);
[[nodiscard]] spec::ProblemInput problem_input(const trade::Trade& trade, const State& state,
                                               const trade::BuildTemplate& build,
                                               const trade::Order& order);
[[nodiscard]] build::BikeFacts facts_of(const State& state, const trade::BuildTemplate& build,
                                        const trade::Order& order);

/// Rules that look at the slot, or at every slot: only they can have something to say about a part
/// in it.
[[nodiscard]] std::vector<const trade::Rule*> rules_at(const trade::Trade& trade,
                                                       const trade::SlotId& slot);

/// The order as it would be with the parts of a whole bike.
[[nodiscard]] trade::Order completed(const trade::Order& order, const spec::Completion& bike);

/// Middle of the hands-on minutes of the order's applicable operations; 0 when they cannot be told.
[[nodiscard]] double hands_on_minutes(const trade::Trade& trade, const State& state,
                                      const trade::Order& order);

}  // namespace rollwright::shop
