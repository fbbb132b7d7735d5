#include "shop/promise_record.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <numbers>

#include <fmt/format.h>

#include "base/index.hpp"
#include "shop/hold_for_odds.hpp"
#include "shop/no_promise.hpp"
#include "shop/supply_side.hpp"
#include "shop/what_if.hpp"

namespace rollwright::shop {
namespace {

using std::chrono::days;

constexpr double kNormalOf90 = 1.2816;

/// From the middle of a day to that of another, in days, at least half a day.
double days_from(Day said, Day day) {
  return std::max(0.5, static_cast<double>((day - said).count()) + 0.5);
}

/// The lognormal with those days at 50 and 90 in 100: odds of being ready before `day`.
double lognormal_before(const trade::PromiseSaid& promise, Day day) {
  const double middle = days_from(promise.said, promise.day_50);
  const double late = days_from(promise.said, promise.day_90);
  const double before = static_cast<double>((day - promise.said).count()) - 0.5;
  if (before <= 0) return 0;
  if (late <= middle) return before >= middle ? 1 : 0;
  const double z = std::log(before / middle) / std::log(late / middle) * kNormalOf90;
  return 0.5 * std::erfc(-z / std::numbers::sqrt2);
}

double odds_before(const trade::PromiseSaid& promise, Day day) {
  if (promise.odds.empty()) return lognormal_before(promise, day);
  double odds = 0;
  for (const auto& [by, in_1000] : promise.odds) {
    if (by < day) odds = in_1000 / 1000.0;
  }
  return odds;
}

bool is_open(const State& state, const trade::PromiseSaid& promise) {
  const trade::Order* order = state.orders.contains(promise.order) ? state.orders.at(promise.order)
                                                                   : nullptr;
  return order != nullptr && trade::is_live(order->state) &&
         order->state < trade::OrderState::kReady;
}

double hands_on(const std::vector<plan::OrderSeen::Work>& work) {
  double minutes = 0;
  for (const plan::OrderSeen::Work& piece : work) minutes += piece.minutes;
  return minutes;
}

}  // namespace

plan::OddsKept odds_kept(const State& state, Day today) {
  std::vector<plan::PlaceKept> places;
  for (const trade::PromiseSaid& promise : state.held.promises) {
    if (!promise.ready && !is_open(state, promise)) continue;
    places.push_back({.odds = odds_before(promise, promise.ready.value_or(today)),
                      .still_open = !promise.ready,
                      .weight = plan::weight_of_age(promise.said, today)});
  }
  return plan::OddsKept(places);
}

plan::OrdersSeen orders_seen(const State& state, const WorkshopInput& workshop, Day today) {
  if (workshop.orders.empty()) return {};
  std::vector<std::vector<plan::OrderSeen::Work>> works;
  for (std::size_t order = 0; order < workshop.orders.size(); ++order) {
    works.push_back(plan::work_of(workshop.input, static_cast<int>(order)));
  }
  std::vector<std::pair<Day, plan::OrderSeen>> all;
  for (const trade::PromiseSaid& promise : state.held.promises) {
    const auto own = index_of(workshop, promise.order);
    plan::OrderSeen seen{.work = works[own ? at(*own) : all.size() % works.size()]};
    const auto after = [&](Day day) { return static_cast<int>((day - promise.said).count()); };
    seen.told_after = std::max(1, after(promise.promised));
    seen.kit_after = std::max(0, after(promise.day_50) - building_days(hands_on(seen.work)));
    all.emplace_back(promise.said, std::move(seen));
  }
  return plan::seen_lately(all, today);
}

std::vector<std::pair<Day, int>> odds_said(const plan::Promise& simulated) {
  std::vector<std::pair<Day, int>> odds;
  for (const plan::CurvePoint& point : simulated.curve) {
    const int in_1000 = static_cast<int>(std::lround(1000 * point.probability));
    const bool last = &point == &simulated.curve.back();
    if (last || odds.empty() || in_1000 >= odds.back().second + 10) {
      odds.emplace_back(point.day, in_1000);
    }
  }
  return odds;
}

Result<PromiseReckoned> reckon_promise(const trade::Trade& trade, const State& state,
                                       const trade::Order& order, const LocalTime& now,
                                       const plan::PromiseOptions& options) {
  const bool live = trade::is_live(order.state);
  auto workshop = workshop_for_odds(trade, state, now, live ? nullptr : &order);
  if (!workshop) return std::unexpected(workshop.error());
  const auto index = index_of(*workshop, order.id);
  if (!index) {
    return refuse(Code::kRefused, no_work_left(order));
  }
  PromiseReckoned reckoned{.workshop = std::move(*workshop), .index = *index,
                           .odds = odds_kept(state, now.day), .simulated = {}, .promise = {}};
  auto simulated = plan::promise_in_turn(
      reckoned.workshop.input, *index, orders_seen(state, reckoned.workshop, now.day),
      reckoned.odds.to_ask(kToldAt), options);
  if (!simulated) return std::unexpected(simulated.error());
  reckoned.simulated = std::move(*simulated);
  reckoned.promise = plan::as_kept(reckoned.simulated, reckoned.odds);
  return reckoned;
}

}  // namespace rollwright::shop
