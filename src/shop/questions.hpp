#pragma once

#include <vector>

#include "shop/order_views.hpp"
#include "shop/state.hpp"
#include "spec/check.hpp"
#include "trade/trade.hpp"

namespace rollwright::shop {

/// A question that this bike asks, and what came of it.
struct AskedQuestion {
  const trade::Question* question = nullptr;
  const trade::Answered* said = nullptr;  // the answer that counts, or null
  bool open = false;                      // nobody has said yes or no
  spec::Finding finding;                  // verdict kFits when the answer is yes
};

/// The questions of the trade that apply to this bike or may apply to it, in their own order.
[[nodiscard]] std::vector<AskedQuestion> asked_of(const trade::Trade& trade, const spec::Bike& bike,
                                                  const trade::Order& order);

/// What rules and questions together say of an order: spec::check, with a finding for each question
/// that is open (not known) or answered with no, and the questions counted among the rules.
[[nodiscard]] spec::SpecCheck check_order(const trade::Trade& trade,
                                          const trade::BuildTemplate& build,
                                          const spec::Bike& bike, const trade::Order& order);

/// The order's questions as they are shown: open ones first, the worst of them first.
[[nodiscard]] std::vector<QuestionView> question_views(const trade::Trade& trade,
                                                       const State& state,
                                                       const trade::Order& order);

}  // namespace rollwright::shop
