#include "shop/agreed_input.hpp"

#include <algorithm>

#include "base/index.hpp"
#include "plan/calendar.hpp"
#include "plan/finish_plan.hpp"
#include "plan/order_facts.hpp"
#include "plan/pin_task.hpp"
#include "plan/place_work.hpp"

namespace rollwright::shop {
namespace {

/// Work that was begun longer ago than this and is not done is planned anew.
constexpr int kMostDaysBack = 14;

/// First day of work that is planned and not done, today at the latest.
Day first_day_of(const State& state, Day today) {
  Day first = today;
  for (const auto& [id, plan] : state.agreed->work) {
    const auto order = state.orders.find(id);
    if (order == state.orders.end() || !trade::is_live(order->second->state)) continue;
    for (const trade::PlannedWork& work : plan.work) {
      if (!order->second->done.contains(work.operation)) first = std::min(first, work.start.day);
    }
  }
  return std::max(first, today - std::chrono::days(kMostDaysBack));
}

plan::ShopPlan kept_plan(const plan::PlanInput& input) {
  const plan::Shopfloor floor(input, kReckonedArrival);
  plan::WorkPlacer placer(floor, 0);
  for (const int task : by_start(input)) {
    if (placer.spots()[at(task)].person < 0) placer.put_as_before(task);
  }
  const plan::OrderFacts facts = plan::facts_of(input, kReckonedArrival);
  plan::ShopPlan plan = plan::plan_from(placer, floor, facts);
  plan::add_chains(plan, placer, floor);
  return plan;
}

class PinKeeper {
 public:
  PinKeeper(AgreedInput& agreed, const State& state, const std::optional<WithoutPin>& without)
      : agreed_(agreed), state_(state), without_(without) {}

  void keep_all() {
    for (const int task : by_start(agreed_.input)) {
      const HeldBy held = agreed_.held[at(task)];
      const bool is_free = held == HeldBy::kNothing || held == HeldBy::kBeforePin;
      if (is_free && is_pinned(task)) keep(task);
    }
  }

 private:
  bool is_pinned(int task) const {
    const trade::OrderId& order = agreed_.workshop.orders[at(task_at(task).order)]->id;
    const std::string& operation = agreed_.workshop.operations[at(task)]->id;
    if (without_ && without_->order == order.text && without_->operation == operation) return false;
    const trade::PlannedWork* work = agreed_work(agreed_, state_, task);
    return work != nullptr && !work->pinned_by.empty();
  }

  void keep(int task) {
    const plan::Assignment where = *task_at(task).previous;
    auto pinned = plan::pinned_by_hand(agreed_.input, agreed_.kept, task, where, kReckonedArrival);
    if (!pinned) {
      agreed_.broken.push_back({task, pinned.error().sentence});
      return;
    }
    for (std::size_t other = 0; other < pinned->tasks.size(); ++other) {
      if (!pinned->tasks[other].pinned || agreed_.held[other] != HeldBy::kNothing) continue;
      agreed_.held[other] = HeldBy::kBeforePin;
    }
    agreed_.held[at(task)] = HeldBy::kPin;
    agreed_.input = std::move(*pinned);
  }

  const plan::Task& task_at(int task) const { return agreed_.workshop.input.tasks[at(task)]; }

  AgreedInput& agreed_;
  const State& state_;
  const std::optional<WithoutPin>& without_;
};

}  // namespace

bool AgreedInput::cannot_stay(int task) const {
  return was_planned(task) && plan::is_open(input, input.tasks[at(task)]) &&
         !kept.tasks[at(task)].placed();
}

bool AgreedInput::is_new(int task) const {
  return !was_planned(task) && plan::is_open(input, input.tasks[at(task)]);
}

bool AgreedInput::holds() const {
  for (std::size_t task = 0; task < input.tasks.size(); ++task) {
    if (cannot_stay(static_cast<int>(task)) || is_new(static_cast<int>(task))) return false;
  }
  return number > 0;
}

Result<AgreedInput> agreed_input(const trade::Trade& trade, const State& state,
                                 const LocalTime& now, const std::optional<WithoutPin>& without) {
  const Day first_day = first_day_of(state, now.day);
  Result<WorkshopInput> workshop = workshop_input(trade, state, now, nullptr, first_day);
  if (!workshop) return std::unexpected(workshop.error());
  AgreedInput agreed{.number = state.agreed->plan ? state.agreed->plan->number : 0,
                     .workshop = std::move(*workshop)};
  plan::PlanInput& input = agreed.workshop.input;
  put_agreed_places(agreed.workshop, state);
  agreed.doers_forgotten = forget_doers_that_clash(input);
  if (Problems problems = plan::problems_of(input); !problems.empty()) {
    return std::unexpected(std::move(problems.front()));
  }
  agreed.uncertain = input;
  input = reckoned(std::move(input));
  agreed.today = plan::minute_at(first_day, now.day);
  agreed.input = input;
  agreed.held.resize(agreed.input.tasks.size());
  agreed.frozen_until =
      end_of_frozen(agreed.input, agreed.today, state.agreed->settings.frozen_days);
  const std::vector<int> frozen =
      frozen_tasks(agreed.workshop, state, agreed.input, agreed.frozen_until);
  agreed.thawed = pin_what_can(agreed.input, frozen);
  for (const int task : frozen) {
    if (agreed.input.tasks[at(task)].pinned) agreed.held[at(task)] = HeldBy::kFrozen;
  }
  agreed.kept = kept_plan(agreed.input);
  PinKeeper(agreed, state, without).keep_all();
  return agreed;
}

}  // namespace rollwright::shop
