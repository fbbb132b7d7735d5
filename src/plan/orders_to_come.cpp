#include "plan/orders_to_come.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <map>

#include <fmt/format.h>

#include "base/index.hpp"
#include "base/random.hpp"

namespace rollwright::plan {
namespace {

constexpr double kComes = 0.6;  // chance that a place for an order is taken
constexpr std::uint64_t kLikeness = 7919;  // names the draws of which past order it is like

void add_order(PlanInput& input, const OrderSeen& like, int place, Day agreed) {
  const int order = static_cast<int>(input.orders.size());
  const std::string id = fmt::format("to come {}", place + 1);
  input.orders.push_back({.id = id,
                          .due = agreed + std::chrono::days(like.told_after),
                          .chance = kComes});
  const int parts = static_cast<int>(input.arrivals.size());
  input.arrivals.push_back(
      {.what = "parts of an order to come", .known = agreed + std::chrono::days(like.kit_after),
       .working_days = {}});
  for (std::size_t piece = 0; piece < like.work.size(); ++piece) {
    const OrderSeen::Work& work = like.work[piece];
    Task task{.id = fmt::format("{} {}", id, piece + 1), .order = order, .area = work.area,
              .on_bike = false, .minutes = work.minutes, .spread = {}, .any_of = work.any_of};
    if (piece == 0) {
      task.parts = {parts};
    } else {
      task.after = {static_cast<int>(input.tasks.size()) - 1};
    }
    input.tasks.push_back(std::move(task));
  }
}

}  // namespace

std::vector<OrderSeen::Work> work_of(const PlanInput& input, int order) {
  struct Sum {
    SkillSet any_of = 0;
    std::map<int, double> by_area;
  };
  std::vector<Sum> sums;
  for (const Task& task : input.tasks) {
    if (task.order != order) continue;
    auto sum = std::ranges::find(sums, task.any_of, &Sum::any_of);
    if (sum == sums.end()) sum = sums.insert(sums.end(), {.any_of = task.any_of, .by_area = {}});
    sum->by_area[task.area] += task.minutes;
  }
  std::vector<OrderSeen::Work> work;
  for (const Sum& sum : sums) {
    OrderSeen::Work piece{.any_of = sum.any_of};
    double most = 0;
    for (const auto& [area, minutes] : sum.by_area) {
      piece.minutes += minutes;
      if (minutes <= most) continue;
      most = minutes;
      piece.area = area;
    }
    work.push_back(piece);
  }
  return work;
}

OrdersSeen seen_lately(const std::vector<std::pair<Day, OrderSeen>>& orders, Day today) {
  constexpr std::chrono::days kLately{182};
  OrdersSeen seen;
  Day first = today;
  for (const auto& [day, order] : orders) {
    if (today - day > kLately || day > today) continue;
    seen.orders.push_back(order);
    first = std::min(first, day);
  }
  const double days = std::max(1.0, static_cast<double>((today - first).count()));
  seen.a_day = static_cast<double>(seen.orders.size()) / days;
  return seen;
}

void add_orders_to_come(PlanInput& input, const OrdersSeen& seen, Day before) {
  if (seen.orders.size() < kFewestSeen || !(seen.a_day > 0)) return;
  const double apart = kComes / seen.a_day;
  const Day today = input.first_day + std::chrono::days(input.now / kMinutesPerDay);
  const Random places(kLikeness);
  int added = 0;
  for (int place = 0; added < kMostToCome; ++place) {
    const Day agreed = today + std::chrono::days(1 + static_cast<int>(place * apart));
    if (agreed >= before) break;
    Random own = places.split(static_cast<std::uint64_t>(place));
    const OrderSeen& like = seen.orders[own.below(seen.orders.size())];
    if (agreed + std::chrono::days(like.told_after) >= before) continue;
    add_order(input, like, place, agreed);
    ++added;
  }
}

PlanInput in_turn(const PlanInput& input, int order, const OrdersSeen& seen, Day day) {
  PlanInput turned = input;
  if (!turned.orders[at(order)].due) turned.orders[at(order)].due = day;
  Day last = day;
  for (const Order& other : input.orders) last = std::max(last, other.due.value_or(day));
  add_orders_to_come(turned, seen, last);
  return turned;
}

Result<std::optional<Day>> day_in_turn(const PlanInput& input, int order, const OrdersSeen& seen,
                                       double told_at, const PromiseOptions& options) {
  constexpr int kFewestDraws = 25;
  const bool known = 0 <= order && at(order) < input.orders.size();
  if (known && input.orders[at(order)].due) return input.orders[at(order)].due;
  PromiseOptions few = options;
  few.draws = std::min(options.draws, std::max(kFewestDraws, options.draws / 20));
  const auto last = promise(input, order, few);
  if (!last) return std::unexpected(last.error());
  const std::optional<Day> day = day_with(*last, told_at);
  if (!day) return day;
  const auto turned = promise(in_turn(input, order, seen, *day), order, few);
  if (!turned) return std::unexpected(turned.error());
  return day_with(*turned, told_at);
}

Result<Promise> promise_in_turn(const PlanInput& input, int order, const OrdersSeen& seen,
                                double told_at, const PromiseOptions& options) {
  const auto day = day_in_turn(input, order, seen, told_at, options);
  if (!day) return std::unexpected(day.error());
  if (!*day) return promise(input, order, options);
  return promise(in_turn(input, order, seen, **day), order, options);
}

}  // namespace rollwright::plan
