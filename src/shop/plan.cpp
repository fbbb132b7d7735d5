#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "plan/shop_plan.hpp"
#include "shop/shop.hpp"
#include "shop/workshop_input.hpp"

namespace rollwright::shop {
namespace {

/// What the wall shows; the plan itself looks as far as the promises do.
constexpr int kWallDays = 28;

const trade::Person* person_named(const State& state, const std::string& id) {
  for (const trade::Person& person : state.held.people) {
    if (person.id.text == id) return &person;
  }
  return nullptr;
}

std::string bound_words(const plan::PlanInput& input, const plan::PlannedOrder& order) {
  const auto most = std::max_element(
      order.bound_by.begin(), order.bound_by.end(),
      [](const plan::Hold& a, const plan::Hold& b) { return a.minutes < b.minutes; });
  return most == order.bound_by.end() ? std::string() : plan::in_words(input, *most);
}

PersonPlan lane_of(const State& state, const plan::PlanInput& input, const plan::Person& person) {
  PersonPlan lane{.id = person.id, .name = person.id};
  if (const trade::Person* known = person_named(state, person.id)) {
    lane.name = known->name;
    lane.skills = known->skills;
  }
  for (const plan::Window& window : person.hours) {
    if (window.from >= kWallDays * plan::kMinutesPerDay) break;
    lane.windows.push_back({local_text(input.first_day, window.from),
                            local_text(input.first_day, window.to)});
  }
  return lane;
}

void add_bars(PlanView& view, const WorkshopInput& workshop, const plan::ShopPlan& plan) {
  const plan::PlanInput& input = workshop.input;
  for (const plan::PlannedTask& planned : plan.tasks) {
    if (!planned.placed() || planned.person < 0) continue;
    const std::size_t task = static_cast<std::size_t>(planned.task);
    const std::size_t order = static_cast<std::size_t>(input.tasks[task].order);
    for (const plan::Window& segment : planned.segments) {
      if (segment.from >= kWallDays * plan::kMinutesPerDay) continue;
      BarView bar{.order = input.orders[order].id,
                  .rider = workshop.orders[order]->rider.name,
                  .operation = workshop.operations[task]->id,
                  .name = workshop.operations[task]->name,
                  .area = workshop.operations[task]->area,
                  .from = local_text(input.first_day, segment.from),
                  .to = local_text(input.first_day, segment.to)};
      bar.frozen = plan::is_frozen(input, input.tasks[task]);
      bar.late = plan.orders[order].days_late > 0;
      view.people[static_cast<std::size_t>(planned.person)].bars.push_back(std::move(bar));
    }
  }
  for (PersonPlan& person : view.people) {
    std::sort(person.bars.begin(), person.bars.end(),
              [](const BarView& a, const BarView& b) { return a.from < b.from; });
  }
}

std::string sentence_for(const PlanView& view) {
  std::vector<std::string> late;
  int promised = 0;
  for (const PlannedOrder& order : view.orders) {
    if (order.promised) ++promised;
    if (order.late) late.push_back(order.order);
  }
  if (late.empty()) {
    return fmt::format("{} bikes are planned; all {} promises hold.", view.orders.size(), promised);
  }
  return fmt::format("{} bikes are planned; {} of {} promises would break: {}.",
                     view.orders.size(), late.size(), promised, listed(late));
}

}  // namespace

Result<PlanView> Shop::plan() {
  const auto current = state();
  if (!current) return std::unexpected(current.error());
  const auto time = now(**current);
  if (!time) return std::unexpected(time.error());
  const auto workshop = workshop_input(trade_, **current, *time);
  if (!workshop) return std::unexpected(workshop.error());
  const plan::PlanInput& input = workshop->input;
  const auto plan = plan::make_plan(input);
  if (!plan) return std::unexpected(plan.error());
  PlanView view{.first_day = input.first_day, .days = kWallDays,
                .now = local_text(input.first_day, input.now),
                .frozen_until = local_text(input.first_day, std::max(input.now, input.frozen_until))};
  for (const plan::Person& person : input.people) {
    view.people.push_back(lane_of(**current, input, person));
  }
  add_bars(view, *workshop, *plan);
  for (std::size_t i = 0; i < input.arrivals.size(); ++i) {
    const int minute = plan::in_hand(input, input.arrivals[i], 0.8);
    if (minute >= kWallDays * plan::kMinutesPerDay) continue;
    ArrivalView arrival{.day = input.first_day + std::chrono::days(minute / plan::kMinutesPerDay),
                        .what = input.arrivals[i].what,
                        .orders = {},
                        .confirmed = workshop->arrival_confirmed[i]};
    for (const int order : workshop->orders_of_arrival[i]) {
      arrival.orders.push_back(input.orders[static_cast<std::size_t>(order)].id);
    }
    view.arrivals.push_back(std::move(arrival));
  }
  for (const plan::PlannedOrder& planned : plan->orders) {
    const std::size_t order = static_cast<std::size_t>(planned.order);
    view.orders.push_back({.order = input.orders[order].id,
                           .rider = workshop->orders[order]->rider.name,
                           .promised = input.orders[order].due,
                           .ready = planned.ready_day,
                           .late = planned.days_late > 0,
                           .bound_by = bound_words(input, planned)});
  }
  view.sentence = sentence_for(view);
  return view;
}

}  // namespace rollwright::shop
