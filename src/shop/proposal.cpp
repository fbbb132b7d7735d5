#include "shop/proposal.hpp"

#include <algorithm>
#include <bit>
#include <chrono>
#include <map>

#include <fmt/format.h>

#include "base/index.hpp"
#include "plan/calendar.hpp"
#include "plan/pin_task.hpp"
#include "plan/place_work.hpp"
#include "shop/plan_picture.hpp"
#include "shop/plan_words.hpp"

namespace rollwright::shop {
namespace {

constexpr double kMovedByHand = 4;  // times what an operation moved weighs otherwise

plan::PlanWeights weights_of(const trade::PlanSettings& settings, bool by_hand) {
  return {.day_late = settings.day_late,
          .moved = settings.moved * (by_hand ? kMovedByHand : 1),
          .kit_day = settings.kit_day,
          .last_day = settings.last_day,
          .uneven_hour = settings.uneven_hour};
}

/// Searches for a better plan of the proposal's input.
Result<void> search(Proposal& proposal, const SearchBudget& budget) {
  const auto begun = std::chrono::steady_clock::now();
  const auto seconds = [begun] {
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - begun).count();
  };
  const bool by_hand = proposal.move || proposal.let_go;
  auto found = plan::improve_plan(
      proposal.input,
      {.seed = static_cast<std::uint64_t>(++proposal.searches),
       .placements = budget.placements,
       .threads = 2,
       .arrival_confidence = kReckonedArrival,
       .weights = weights_of(proposal.state->agreed->settings, by_hand)},
      [&](const plan::PlanProgress& progress) {
        const double now = seconds();
        return now < budget.seconds && (!budget.watch || budget.watch(progress, now));
      });
  if (!found) return std::unexpected(found.error());
  proposal.found = std::move(*found);
  proposal.seconds += seconds();
  return {};
}

Result<void> put_move(Proposal& proposal, const State& state) {
  const Result<Move> move = move_by_hand(proposal.agreed, state, proposal.wish);
  if (!move) return std::unexpected(move.error());
  auto pinned = plan::pinned_by_hand(proposal.agreed.input, proposal.before, move->task,
                                     move->where, kReckonedArrival);
  if (!pinned) return std::unexpected(pinned.error());
  proposal.move = *move;
  proposal.input = std::move(*pinned);
  return {};
}

Result<void> let_go(Proposal& proposal, const State& state) {
  const Result<int> task =
      task_named(proposal.agreed, proposal.wish.order, proposal.wish.operation);
  if (!task) return std::unexpected(task.error());
  const trade::PlannedWork* work = agreed_work(proposal.agreed, state, *task);
  if (work == nullptr || work->pinned_by.empty()) {
    return refuse(Code::kRefused,
                  fmt::format("{} was not put anywhere by hand", task_words(proposal.agreed, *task)),
                  {.field = "operation", .value = proposal.wish.operation});
  }
  proposal.let_go = *task;
  return {};
}

/// Pins of the agreed plan and of the proposal; those that were let go or broke are left out.
std::string pinned_by(const Proposal& proposal, int task, const std::string& who) {
  if (proposal.move && proposal.move->task == task) return who;
  if (proposal.let_go == task) return {};
  const AgreedInput& agreed = proposal.agreed;
  const trade::PlannedWork* work = agreed_work(agreed, *proposal.state, task);
  if (work == nullptr) return {};
  const bool broken = std::ranges::find(agreed.broken, task, &NotKept::task) != agreed.broken.end();
  return broken ? std::string() : work->pinned_by;
}

/// Ascending, as the book gives them back.
std::vector<trade::PersonId> ids_of(const plan::PlanInput& input, std::uint64_t people) {
  std::vector<trade::PersonId> ids;
  for (; people != 0; people &= people - 1) {
    ids.emplace_back(input.people[at(std::countr_zero(people))].id);
  }
  std::ranges::sort(ids);
  return ids;
}

/// The same people by their places in another input; nobody for those it does not know.
std::uint64_t same_people(const plan::PlanInput& from, std::uint64_t people,
                          const plan::PlanInput& to) {
  std::uint64_t same = 0;
  for (const trade::PersonId& id : ids_of(from, people)) {
    const auto found = std::ranges::find(to.people, id.text, &plan::Person::id);
    if (found == to.people.end()) continue;
    same |= plan::person_bit(static_cast<int>(found - to.people.begin()));
  }
  return same;
}

trade::WallTime wall_time(const plan::PlanInput& input, int minute) {
  return {plan::day_at(input.first_day, minute), minute % plan::kMinutesPerDay};
}

}  // namespace

Result<plan::ShopPlan> mended_plan(const AgreedInput& agreed, const State& state) {
  if (agreed.holds()) return agreed.kept;
  if (agreed.number == 0) return plan::make_plan(agreed.input);
  auto plan = plan::improve_plan(agreed.input,
                                 {.placements = 1,
                                  .arrival_confidence = kReckonedArrival,
                                  .weights = weights_of(state.agreed->settings, false)});
  if (!plan) return std::unexpected(plan.error());
  return std::move(plan->plan);
}

Result<Proposal> propose(const trade::Trade& trade, std::shared_ptr<const State> held,
                         const LocalTime& now, const ProposalWish& wish,
                         const SearchBudget& budget) {
  const State& state = *held;
  std::optional<WithoutPin> without;
  if (!wish.order.empty()) without = WithoutPin{wish.order, wish.operation};
  auto agreed = agreed_input(trade, state, now, without);
  if (!agreed) return std::unexpected(agreed.error());
  if (agreed->number == 0 && !wish.order.empty()) {
    return refuse(Code::kRefused, "no plan is agreed yet: agree one, then move work in it");
  }
  Proposal proposal{.wish = wish, .state = std::move(held), .agreed = std::move(*agreed)};
  auto before = mended_plan(proposal.agreed, state);
  if (!before) return std::unexpected(before.error());
  proposal.before = std::move(*before);
  proposal.input = proposal.agreed.input;
  if (!wish.order.empty()) {
    Result<void> put = wish.unpin ? let_go(proposal, state) : put_move(proposal, state);
    if (!put) return std::unexpected(put.error());
  }
  if (Result<void> ok = search(proposal, budget); !ok) return std::unexpected(ok.error());
  return proposal;
}

Result<Proposal> improved(const Proposal& proposal, const SearchBudget& budget) {
  Proposal next = proposal;
  if (Result<void> ok = search(next, budget); !ok) return std::unexpected(ok.error());
  if (next.found.cost > proposal.found.cost) next.found = proposal.found;
  return next;
}

trade::ShopFiles to_agree(const Proposal& proposal, const std::string& who, Instant at_time) {
  const State& state = *proposal.state;
  const AgreedInput& agreed = proposal.agreed;
  const plan::ShopPlan& plan = proposal.found.plan;
  const std::vector<int> stands = stands_of(proposal);
  trade::ShopFiles files;
  files.agreed_plans = {{.number = agreed.number + 1, .agreed = at_time, .who = who}};
  std::map<trade::OrderId, trade::OrderPlan> plans;
  for (const auto& [id, held] : state.agreed->work) plans[id] = {.order = id, .work = {}};
  for (const plan::PlannedTask& placed : plan.tasks) {
    const plan::Task& task = agreed.input.tasks[at(placed.task)];
    const trade::OrderId& order = agreed.workshop.orders[at(task.order)]->id;
    const trade::Operation& operation = *agreed.workshop.operations[at(placed.task)];
    trade::OrderPlan& known = plans[order];
    known.order = order;
    if (task.done) {
      // What is done stays where it was planned: who did it matters to who may check it.
      const trade::PlannedWork* work = agreed_work(agreed, state, placed.task);
      if (work != nullptr) known.work.push_back(*work);
    } else if (placed.placed()) {
      known.work.push_back({.operation = operation.id,
                            .person = trade::PersonId(agreed.input.people[at(placed.person)].id),
                            .area = operation.area,
                            .stand = stands[at(placed.task)],
                            .start = wall_time(agreed.input, placed.start()),
                            .end = wall_time(agreed.input, placed.end()),
                            .pinned_by = pinned_by(proposal, placed.task, who),
                            .lending = ids_of(agreed.input, placed.lending)});
    }
  }
  for (auto& [id, order_plan] : plans) {
    std::ranges::sort(order_plan.work, {}, &trade::PlannedWork::operation);
    files.order_plans.push_back(std::move(order_plan));
  }
  return files;
}

Result<void> still_holds(const Proposal& proposal, const trade::Trade& trade, const State& state,
                         const LocalTime& now) {
  const AgreedInput& then = proposal.agreed;
  auto workshop = workshop_input(trade, state, now, nullptr, then.input.first_day);
  if (!workshop) return std::unexpected(workshop.error());
  plan::PlanInput input = reckoned(std::move(workshop->input));
  input.now = 0;  // what was to begin since the proposal was made has begun
  for (plan::Task& task : input.tasks) {
    const auto same = std::ranges::find(then.input.tasks, task.id, &plan::Task::id);
    if (same == then.input.tasks.end()) continue;
    const plan::PlannedTask& placed = proposal.found.plan.tasks[at(
        static_cast<int>(same - then.input.tasks.begin()))];
    if (!placed.placed()) continue;
    const auto person = std::ranges::find(
        input.people, then.input.people[at(placed.person)].id, &plan::Person::id);
    if (person == input.people.end()) continue;
    task.previous = plan::Assignment{static_cast<int>(person - input.people.begin()),
                                     placed.start(),
                                     same_people(then.input, placed.lending, input)};
  }
  const plan::Shopfloor floor(input, kReckonedArrival);
  plan::WorkPlacer placer(floor, 0);
  for (const int task : by_start(input)) {
    if (placer.put_as_before(task)) continue;
    return refuse(Code::kConflict,
                  fmt::format("since this was proposed something came in between: {} cannot begin "
                              "on {}; plan again",
                              input.tasks[at(task)].id,
                              moment_words(input, input.tasks[at(task)].previous->start)),
                  {.field = "proposal", .value = proposal.id});
  }
  return {};
}

}  // namespace rollwright::shop
