#pragma once

#include <memory>

#include "shop/fit_views.hpp"
#include "shop/state.hpp"
#include "spec/choices.hpp"
#include "spec/count.hpp"
#include "spec/problem.hpp"
#include "supply/lead_time.hpp"
#include "supply/needs.hpp"
#include "trade/trade.hpp"

namespace rollwright::shop {

/// What the fit engine says of one order at one state, kept so that a page that opens slot after
/// slot reckons once. The problem holds on to the state it was made from.
struct Reckoned {
  std::shared_ptr<const State> state;
  std::int64_t revision = 0;
  Day day = {};
  std::shared_ptr<const State> made_from;  // the problem's parts are there
  trade::Part order;                       // facts that the problem was made for
  trade::Part rider;
  std::string build;
  spec::Problem problem;
  spec::Selection selection;
  /// Who gets what, as if an order that is not agreed yet were.
  std::vector<supply::Cover> covers;
  std::shared_ptr<const supply::LeadTimes> lead_times;
  spec::Arrivals arrivals;
  spec::Choices choices;
  spec::Count count;  // empty where the catalogue is too loose to count
  /// Of the whole bike that could be ready soonest; of the parts chosen so far where there is none.
  double hands_on_minutes = 0;

  /// The day on which a whole bike is ready whose last part is here on `kit`.
  [[nodiscard]] Day ready(Day kit) const;
};

/// `before`, when given, is what was reckoned last: of it is used again whatever depends only on
/// what has not changed.
[[nodiscard]] Result<std::shared_ptr<const Reckoned>> reckon(
    const trade::Trade& trade, const std::shared_ptr<const State>& state,
    const trade::BuildTemplate& build, const trade::Order& order, const LocalTime& now,
    const Reckoned* before);

/// Fills in what the best complete bikes come to, and per slot how many parts are open.
void add_best(SpecView& view, const Reckoned& reckoned);

}  // namespace rollwright::shop
