#include "shop/what_if.hpp"

#include <algorithm>

#include "shop/hold_for_odds.hpp"

namespace rollwright::shop {
namespace {

/// Takes pieces out of one order's name and puts them into another's.
void lend(trade::Stock& stock, const supply::Loan& loan) {
  int left = loan.quantity;
  for (auto& [order, quantity] : stock.put_by) {
    if (order != loan.lender) continue;
    const int given = std::min(quantity, left);
    quantity -= given;
    left -= given;
  }
  std::erase_if(stock.put_by, [](const auto& held) { return held.second == 0; });
  stock.put_by.emplace_back(loan.borrower, loan.quantity);
}

void lend(Supposed& supposed, const supply::Loan& loan) {
  for (trade::Stock& stock : supposed.stock) {
    if (stock.part == loan.part) lend(stock, loan);
  }
  for (trade::PurchaseLine& line : supposed.purchases) {
    if (line.id == loan.replacement) line.order = loan.lender;
  }
}

}  // namespace

WhatIf with(const WhatIf& some, const WhatIf& more) {
  WhatIf both = some;
  for (const auto& [slot, part] : more.choices) both.choices[slot] = part;
  both.bought.insert(both.bought.end(), more.bought.begin(), more.bought.end());
  both.borrowed.insert(both.borrowed.end(), more.borrowed.begin(), more.borrowed.end());
  for (const auto& [person, longer] : more.longer_days) both.longer_days[person] = longer;
  for (const auto& [purchase, mode] : more.modes) both.modes[purchase] = mode;
  both.first = some.first || more.first;
  return both;
}

std::shared_ptr<const State> state_if(const State& state, const trade::Order& order,
                                      const WhatIf& what_if) {
  Supposed supposed{.stock = state.held.stock, .purchases = state.held.purchases, .orders = {}};
  for (const trade::PurchaseLine& bought : what_if.bought) {
    for (trade::PurchaseLine& line : supposed.purchases) {
      if (line.order == order.id && line.part == bought.part) line.order.reset();
    }
    supposed.purchases.push_back(bought);
  }
  for (const supply::Loan& loan : what_if.borrowed) lend(supposed, loan);
  for (trade::PurchaseLine& line : supposed.purchases) {
    const auto mode = what_if.modes.find(line.id);
    if (mode != what_if.modes.end()) line.mode = mode->second;
  }
  if (!what_if.choices.empty()) {
    trade::Order changed = order;
    for (const auto& [slot, part] : what_if.choices) changed.choices[slot] = part;
    supposed.orders.push_back(std::move(changed));
  }
  return state_supposing(state, supposed);
}

Result<WorkshopInput> workshop_if(const trade::Trade& trade, const State& state_if,
                                  const trade::OrderId& order, const LocalTime& now,
                                  const WhatIf& what_if) {
  const trade::Order* held = state_if.orders.at(order);
  auto workshop =
      workshop_for_odds(trade, state_if, now, trade::is_live(held->state) ? nullptr : held);
  if (!workshop) return workshop;
  for (plan::Person& person : workshop->input.people) {
    const auto longer = what_if.longer_days.find(person.id);
    if (longer == what_if.longer_days.end()) continue;
    person.hours = plan::with_longer_days(person.hours, longer->second);
  }
  const auto index = index_of(*workshop, order);
  if (what_if.first && index) {
    // Orders are taken up by the plan, those that it does not know by the day promised; none was
    // promised for three years ago.
    workshop->input.orders[static_cast<std::size_t>(*index)].due =
        workshop->input.first_day - std::chrono::days(1000);
    for (plan::Task& task : workshop->input.tasks) {
      if (task.order == *index && !task.pinned) task.previous.reset();
    }
  }
  return workshop;
}

std::optional<int> index_of(const WorkshopInput& workshop, const trade::OrderId& order) {
  const auto place = std::ranges::find(workshop.orders, order, &trade::Order::id);
  if (place == workshop.orders.end()) return std::nullopt;
  return static_cast<int>(place - workshop.orders.begin());
}

}  // namespace rollwright::shop
