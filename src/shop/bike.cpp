#include "shop/bike.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "build/applicable.hpp"
#include "build/traits.hpp"
#include "trade/order_facts.hpp"

namespace rollwright::shop {

Result<const trade::BuildTemplate*> build_of(const trade::Trade& trade,
                                             const trade::Order& order) {
  const auto found = trade.templates.find(order.build);
  if (found != trade.templates.end()) return &found->second;
  return refuse(Code::kDamaged,
                fmt::format("order {} is a {}, which the trade data does not describe any more",
                            order.id.text, order.build),
                {.field = "build", .value = order.build});
}

namespace {

trade::Part order_facts_of(const State& state, const trade::Order& order) {
  return trade::order_facts(order, state.all_else->ride(order.need.route));
}

}  // namespace

spec::Bike bike_of(const State& state, const trade::Order& order) {
  spec::Bike bike{.parts = {}, .order = order_facts_of(state, order),
                  .rider = trade::rider_facts(order)};
  for (const auto& [slot, id] : order.choices) {
    if (const trade::Part* part = state.part(id)) bike.parts[slot] = part;
  }
  return bike;
}

spec::ProblemInput problem_input(const trade::Trade& trade, const State& state,
                                 const trade::BuildTemplate& build, const trade::Order& order) {
  return {.trade = trade, .build = build, .parts = state.held.parts,
          .order = order_facts_of(state, order), .rider = trade::rider_facts(order)};
}

build::BikeFacts facts_of(const State& state, const trade::BuildTemplate& build,
                          const trade::Order& order) {
  spec::Bike bike = bike_of(state, order);
  return {.build = &build, .parts = std::move(bike.parts), .order = std::move(bike.order),
          .rider = std::move(bike.rider)};
}

std::vector<const trade::Rule*> rules_at(const trade::Trade& trade,
                                         const trade::SlotId& slot) {
  std::vector<const trade::Rule*> rules;
  for (const trade::Rule& rule : trade.rules) {
    const std::vector<trade::SlotId> scope = trade::scope_of(rule);
    const bool all = std::ranges::any_of(
        rule.terms, [](const trade::Operand& term) { return term.slot.text == "*"; });
    if (all || std::ranges::find(scope, slot) != scope.end()) rules.push_back(&rule);
  }
  return rules;
}

trade::Order completed(const trade::Order& order, const spec::Completion& bike) {
  trade::Order whole = order;
  for (const auto& [slot, part] : bike.parts) {
    if (!part.empty()) whole.choices[slot] = part;
  }
  return whole;
}

double hands_on_minutes(const trade::Trade& trade, const State& state,
                        const trade::Order& order) {
  const auto build = build_of(trade, order);
  if (!build) return 0;
  const build::BikeTraits traits = build::traits_of(trade, facts_of(state, **build, order));
  const auto steps = build::applicable_operations(trade.operations, traits.holding);
  return steps ? (steps->minutes_low + steps->minutes_high) / 2 : 0;
}

}  // namespace rollwright::shop
