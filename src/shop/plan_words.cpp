#include "shop/plan_words.hpp"

#include <algorithm>
#include <bit>
#include <map>
#include <set>

#include <fmt/format.h>

#include "base/index.hpp"
#include "base/text.hpp"
#include "plan/calendar.hpp"
#include "shop/counted.hpp"

namespace rollwright::shop {
namespace {

std::string in_hand_words(const plan::PlanInput& input, int arrival) {
  const int minute = plan::in_hand(input, input.arrivals[at(arrival)], kReckonedArrival);
  if (minute >= plan::kNever) return "is not expected within the year";
  return "is reckoned with on " + weekday_words(plan::day_at(input.first_day, minute));
}

std::string cause_words(const AgreedInput& agreed, const State& state, const plan::Cause& cause) {
  const plan::PlanInput& input = agreed.workshop.input;
  switch (cause.kind) {
    case plan::CauseKind::kArrival:
      return fmt::format("{} {}", input.arrivals[at(cause.by)].what,
                         in_hand_words(input, cause.by));
    case plan::CauseKind::kAbsent:
      return person_words(state, input, cause.by) + " is not there for it then";
    case plan::CauseKind::kOverdue: return "it was to begin before now";
    case plan::CauseKind::kBefore:
      return task_words(agreed, cause.by) + ", which comes before it, ends later";
    case plan::CauseKind::kPersonTaken: return "its person now does " + task_words(agreed, cause.by);
    case plan::CauseKind::kStandTaken: return "its stand is taken by " + task_words(agreed, cause.by);
    case plan::CauseKind::kBikeTaken: return "the bike is needed for " + task_words(agreed, cause.by);
    case plan::CauseKind::kLendingTaken:
      return "who was to lend a hand now does " + task_words(agreed, cause.by);
    case plan::CauseKind::kLendingShort:
      return "it takes more people at once than the plan had for it";
    case plan::CauseKind::kSecondPerson:
      return task_words(agreed, cause.by) + ", which it checks, is done by the same person";
    case plan::CauseKind::kNewWork:
      return fmt::format("order {} was not in the plan", input.orders[at(cause.by)].id);
    case plan::CauseKind::kBetter: return "the whole plan is better so";
  }
  return {};
}

/// Operations that one event keeps from where they were agreed.
struct Touched {
  std::set<std::string> orders;
  int operations = 0;
};

/// "3 operations of order 2031 cannot stay as agreed"
std::string touched_words(const Touched& touched) {
  const std::vector<std::string> orders(touched.orders.begin(), touched.orders.end());
  return fmt::format("{} of {} {} cannot stay as agreed",
                     counted(at(touched.operations), "operation", "operations"),
                     orders.size() == 1 ? "order" : "orders", listed(orders));
}

std::string event_words(const AgreedInput& agreed, const State& state, const plan::Cause& event,
                        const Touched& touched) {
  const std::string what = touched_words(touched);
  switch (event.kind) {
    case plan::CauseKind::kOverdue:
      return fmt::format("What was to begin before now is not done: {}.", what);
    case plan::CauseKind::kAbsent:
      return fmt::format("{} is not at work then: {}.",
                         person_words(state, agreed.input, event.by), what);
    default: return fmt::format("{}: {}.", cause_words(agreed, state, event), what);
  }
}

bool is_away_during(const plan::PlanInput& input, const State& state,
                    const plan::PlannedTask& placed) {
  const auto known = person_called(state, input.people[at(placed.person)].id, "person");
  if (!known) return false;
  const Day start = plan::day_at(input.first_day, placed.start());
  const Day end = plan::day_at(input.first_day, placed.end());
  return std::ranges::any_of((*known)->away, [&](const auto& away) {
    return away.first <= end && start <= away.second;
  });
}

std::vector<OutOfDate> cannot_stay(const AgreedInput& agreed, const State& state) {
  const plan::PlanChanges changes = changes_of(agreed, state, agreed.kept);
  std::map<std::pair<int, int>, Touched> events;
  for (const plan::TaskChange& change : changes.tasks) {
    if (!agreed.cannot_stay(change.task) || change.because.empty()) continue;
    const plan::Cause& event = change.because.back();
    Touched& touched = events[{static_cast<int>(event.kind), event.by}];
    touched.orders.insert(
        agreed.input.orders[at(agreed.input.tasks[at(change.task)].order)].id);
    ++touched.operations;
  }
  std::vector<OutOfDate> all;
  for (const auto& [event, touched] : events) {
    const plan::Cause cause{static_cast<plan::CauseKind>(event.first), event.second};
    all.push_back({.sentence = event_words(agreed, state, cause, touched),
                   .orders = {touched.orders.begin(), touched.orders.end()},
                   .operations = touched.operations});
  }
  return all;
}

std::vector<OutOfDate> not_in_plan(const AgreedInput& agreed) {
  std::map<std::string, int> missing;
  std::set<std::string> known;
  for (std::size_t task = 0; task < agreed.input.tasks.size(); ++task) {
    const std::string& order = agreed.input.orders[at(agreed.input.tasks[task].order)].id;
    if (agreed.is_new(static_cast<int>(task))) ++missing[order];
    if (agreed.was_planned(static_cast<int>(task))) known.insert(order);
  }
  std::vector<OutOfDate> all;
  for (const auto& [order, operations] : missing) {
    const std::string count = counted(at(operations), "operation", "operations");
    all.push_back({.sentence = known.contains(order)
                                   ? fmt::format("{} of order {} have no place in the plan.", count,
                                                 order)
                                   : fmt::format("Order {} is not in the plan: {}.", order, count),
                   .orders = {order},
                   .operations = operations});
  }
  return all;
}

}  // namespace

std::string person_words(const State& state, const plan::PlanInput& input, int person) {
  return state.name_of(trade::PersonId(input.people[at(person)].id));
}

std::vector<std::string> people_words(const State& state, const plan::PlanInput& input,
                                      std::uint64_t people) {
  std::vector<std::string> names;
  for (; people != 0; people &= people - 1) {
    names.push_back(person_words(state, input, std::countr_zero(people)));
  }
  return names;
}

std::string short_of_hands_words(const WorkshopInput& workshop) {
  std::set<std::string> operations;
  for (const auto& [order, operation] : workshop.short_of_hands) operations.insert(operation);
  if (operations.empty()) return {};
  return fmt::format("{} {} more people at once than the shop has, and {} planned with all there "
                     "are: see to help.",
                     listed({operations.begin(), operations.end()}),
                     operations.size() == 1 ? "takes" : "take",
                     operations.size() == 1 ? "is" : "are");
}

std::string weekday_words(Day day) {
  return in_words(day).substr(0, 3) + " " + in_short(day);
}

std::string moment_words(const plan::PlanInput& input, int minute) {
  return fmt::format("{} at {}", weekday_words(plan::day_at(input.first_day, minute)),
                     plan::clock_words(minute % plan::kMinutesPerDay));
}

std::string task_words(const AgreedInput& agreed, int task) {
  return fmt::format("{} of order {}", agreed.workshop.operations[at(task)]->id,
                     agreed.input.orders[at(agreed.input.tasks[at(task)].order)].id);
}

plan::PlanChanges changes_of(const AgreedInput& agreed, const State& state,
                             const plan::ShopPlan& plan) {
  constexpr int kNoDayToSpare = 1;
  plan::PlanChanges changes =
      plan::what_changed(agreed.workshop.input, plan, kNoDayToSpare, kReckonedArrival);
  for (plan::TaskChange& change : changes.tasks) {
    if (change.because.empty() || change.because.back().kind != plan::CauseKind::kBefore) continue;
    const plan::PlannedTask& before = plan.tasks[at(change.because.back().by)];
    if (before.placed() && is_away_during(agreed.input, state, before)) {
      change.because.push_back({plan::CauseKind::kAbsent, before.person});
    }
  }
  return changes;
}

std::vector<std::string> because_words(const AgreedInput& agreed, const State& state,
                                       const std::vector<plan::Cause>& because) {
  std::vector<std::string> words;
  for (auto cause = because.rbegin(); cause != because.rend(); ++cause) {
    words.push_back(cause_words(agreed, state, *cause));
  }
  return words;
}

std::vector<OutOfDate> out_of_date(const AgreedInput& agreed, const State& state) {
  if (agreed.number == 0) return {};
  std::vector<OutOfDate> all = cannot_stay(agreed, state);
  for (OutOfDate& missing : not_in_plan(agreed)) all.push_back(std::move(missing));
  for (const NotKept& pin : agreed.broken) {
    const plan::Task& task = agreed.input.tasks[at(pin.task)];
    all.push_back({.sentence = fmt::format("{} was put there by hand and cannot stay: {}.",
                                           task_words(agreed, pin.task), pin.sentence),
                   .orders = {agreed.input.orders[at(task.order)].id},
                   .operations = 1});
  }
  for (const NotKept& frozen : agreed.thawed) {
    const plan::Task& task = agreed.input.tasks[at(frozen.task)];
    all.push_back({.sentence = fmt::format("{} was frozen and cannot stay so: {}.",
                                           task_words(agreed, frozen.task), frozen.sentence),
                   .orders = {agreed.input.orders[at(task.order)].id},
                   .operations = 1});
  }
  if (!agreed.doers_forgotten.empty()) {
    all.push_back({.sentence = fmt::format("Who was planned for the work that is done leaves no "
                                           "second person: {}. Nobody is taken to have done it.",
                                           agreed.doers_forgotten),
                   .orders = {},
                   .operations = 0});
  }
  std::ranges::stable_sort(all, std::greater(), &OutOfDate::operations);
  return all;
}

}  // namespace rollwright::shop
