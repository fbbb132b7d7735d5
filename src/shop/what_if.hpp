#pragma once

#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "plan/calendar.hpp"
#include "shop/state.hpp"
#include "shop/workshop_input.hpp"
#include "supply/loans.hpp"
#include "trade/trade.hpp"

/// The shop as it would be if some things were done for one order: what a promise is asked of twice.
namespace rollwright::shop {

struct WhatIf {
  std::map<trade::SlotId, trade::PartId> choices;  // of the order, in place of its own
  /// Bought for the order, as if placed now; a purchase of the same part under the order's name
  /// loses that name and is free for others.
  std::vector<trade::PurchaseLine> bought;
  std::vector<supply::Loan> borrowed;
  std::map<std::string, plan::LongerDays> longer_days;  // by person
  std::map<std::string, std::string> modes;  // of freight, by purchase
  bool first = false;                                   // it is taken up before all others
};

/// Both at once. Where both say something of the same slot or person, `more` has the last word.
[[nodiscard]] WhatIf with(const WhatIf& some, const WhatIf& more);

/// The book as it would be. `order` is one of `state`.
[[nodiscard]] std::shared_ptr<const State> state_if(const State& state, const trade::Order& order,
                                                    const WhatIf& what_if);

/// What the planner would see then: that of `state_if`, with the longer days and the turn.
///
/// Errors: those of workshop_for_odds.
[[nodiscard]] Result<WorkshopInput> workshop_if(const trade::Trade& trade, const State& state_if,
                                                const trade::OrderId& order,
                                                const LocalTime& now, const WhatIf& what_if);

/// Index of the order among those of the input; none when nothing is left to do for it.
[[nodiscard]] std::optional<int> index_of(const WorkshopInput& workshop,
                                          const trade::OrderId& order);

}  // namespace rollwright::shop
