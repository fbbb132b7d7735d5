#include "shop/plan_picture.hpp"

#include <algorithm>
#include <bit>
#include <map>

#include <fmt/format.h>

#include "base/index.hpp"
#include "base/text.hpp"
#include "plan/calendar.hpp"
#include "plan/improve_plan.hpp"
#include "shop/plan_words.hpp"
#include "shop/stand_numbers.hpp"

namespace rollwright::shop {
namespace {

/// What the wall shows; the plan itself looks as far as the promises do.
constexpr int kWallDays = 28;

class Picture {
 public:
  explicit Picture(const Pictured& pictured)
      : p_(pictured), input_(pictured.agreed.input), end_(pictured.agreed.today + kWallDays * plan::kMinutesPerDay) {}

  PlanView draw() {
    const trade::PlanSettings& settings = p_.state.agreed->settings;
    view_ = {.first_day = plan::day_at(input_.first_day, p_.agreed.today),
             .days = kWallDays,
             .now = text_of(input_.now),
             .frozen_until = text_of(p_.agreed.number > 0 ? p_.agreed.frozen_until : input_.now),
             .settings = {.frozen_days = settings.frozen_days, .day_late = settings.day_late,
                          .moved = settings.moved, .kit_day = settings.kit_day,
                          .last_day = settings.last_day, .uneven_hour = settings.uneven_hour}};
    for (const plan::Person& person : input_.people) view_.people.push_back(lane_of(person));
    for (const plan::Area& area : input_.areas) view_.areas.push_back({area.id, area.stands});
    add_bars();
    if (p_.as_agreed) add_what_cannot_stay();
    for (PersonPlan& person : view_.people) std::ranges::sort(person.bars, {}, &BarView::from);
    add_arrivals();
    add_orders();
    view_.sentence = sentence();
    return std::move(view_);
  }

 private:
  std::string text_of(int minute) const { return local_text(input_.first_day, minute); }
  bool on_wall(const plan::Window& window) const {
    return p_.agreed.today <= window.from && window.from < end_;
  }

  PersonPlan lane_of(const plan::Person& person) const {
    PersonPlan lane{.id = person.id, .name = p_.state.name_of(trade::PersonId(person.id))};
    for (const trade::Person& known : p_.state.held.people) {
      if (known.id.text == person.id) lane.skills = known.skills;
    }
    for (const plan::Window& window : person.hours) {
      if (on_wall(window)) lane.windows.push_back({text_of(window.from), text_of(window.to)});
    }
    return lane;
  }

  BarView bar_of(int task) const {
    const plan::Task& what = input_.tasks[at(task)];
    const trade::Operation& operation = *p_.agreed.workshop.operations[at(task)];
    BarView bar{.order = input_.orders[at(what.order)].id,
                .rider = p_.agreed.workshop.orders[at(what.order)]->rider.name,
                .operation = operation.id,
                .name = operation.name,
                .area = operation.area,
                .stand = p_.stands[at(task)]};
    bar.unattended_minutes = what.unattended;
    bar.frozen = p_.agreed.held[at(task)] == HeldBy::kFrozen;
    bar.pinned = p_.pinned[at(task)];
    const trade::PlannedWork* work = agreed_work(p_.agreed, p_.state, task);
    if (bar.pinned && work != nullptr) bar.pinned_by = work->pinned_by;
    bar.late = p_.days.orders[at(what.order)].days_late > 0;
    return bar;
  }

  void add_bars() {
    for (const plan::PlannedTask& placed : p_.plan.tasks) {
      if (!placed.placed() || placed.person < 0) continue;
      BarView bar = bar_of(placed.task);
      bar.start = text_of(placed.start());
      bar.end = text_of(placed.end());
      bar.others = people_words(p_.state, input_, placed.lending);
      for (const plan::Window& segment : placed.segments) {
        if (!on_wall(segment)) continue;
        bar.from = text_of(segment.from);
        bar.to = text_of(segment.to);
        view_.people[at(placed.person)].bars.push_back(bar);
        for (std::uint64_t left = placed.lending; left != 0; left &= left - 1) {
          add_lending(bar, placed, std::countr_zero(left));
        }
      }
    }
  }

  /// The same stretch in the lane of somebody who lends a hand.
  void add_lending(BarView bar, const plan::PlannedTask& placed, int person) {
    bar.lends = true;
    bar.others = {person_words(p_.state, input_, placed.person)};
    for (std::string& other :
         people_words(p_.state, input_, placed.lending & ~plan::person_bit(person))) {
      bar.others.push_back(std::move(other));
    }
    view_.people[at(person)].bars.push_back(std::move(bar));
  }

  /// Agreed work that can no longer be done so stands where it was agreed, with the reason.
  void add_what_cannot_stay() {
    const plan::PlanChanges changes = changes_of(p_.agreed, p_.state, p_.agreed.kept);
    for (const plan::TaskChange& change : changes.tasks) {
      if (!p_.agreed.cannot_stay(change.task)) continue;
      const trade::PlannedWork* work = agreed_work(p_.agreed, p_.state, change.task);
      if (work == nullptr) continue;
      BarView bar = bar_of(change.task);
      bar.stand = work->stand;
      bar.start = bar.from = fmt::format("{}T{}", iso(work->start.day), clock(work->start.minute));
      bar.end = bar.to = fmt::format("{}T{}", iso(work->end.day), clock(work->end.minute));
      bar.cannot = join(because_words(p_.agreed, p_.state, change.because), "; ");
      if (on_wall({change.was.start, change.was.start + 1})) {
        view_.people[at(change.was.person)].bars.push_back(std::move(bar));
      }
    }
  }

  static std::string clock(int minute) {
    return fmt::format("{:02}:{:02}", minute / 60, minute % 60);
  }

  void add_arrivals() {
    for (std::size_t i = 0; i < input_.arrivals.size(); ++i) {
      const int minute = plan::in_hand(input_, input_.arrivals[i], kReckonedArrival);
      if (minute < input_.now || minute >= end_) continue;
      ArrivalView arrival{.day = plan::day_at(input_.first_day, minute),
                          .what = input_.arrivals[i].what,
                          .orders = {},
                          .confirmed = p_.agreed.workshop.arrival_confirmed[i]};
      for (const int order : p_.agreed.workshop.orders_of_arrival[i]) {
        arrival.orders.push_back(input_.orders[at(order)].id);
      }
      view_.arrivals.push_back(std::move(arrival));
    }
  }

  void add_orders() {
    for (const plan::PlannedOrder& planned : p_.days.orders) {
      const auto most = std::ranges::max_element(planned.bound_by, {}, &plan::Hold::minutes);
      view_.orders.push_back(
          {.order = input_.orders[at(planned.order)].id,
           .rider = p_.agreed.workshop.orders[at(planned.order)]->rider.name,
           .promised = input_.orders[at(planned.order)].due,
           .ready = planned.ready_day,
           .late = planned.days_late > 0,
           .bound_by = most == planned.bound_by.end() ? std::string()
                                                      : plan::in_words(input_, *most)});
    }
  }

  std::string sentence() const {
    std::vector<std::string> late;
    int promised = 0;
    for (const PlannedOrder& order : view_.orders) {
      if (order.promised) ++promised;
      if (order.late) late.push_back(order.order);
    }
    const std::size_t bikes = view_.orders.size();
    const std::string hands = short_of_hands_words(p_.agreed.workshop);
    const std::string more = hands.empty() ? hands : " " + hands;
    if (late.empty()) {
      return fmt::format("{} bikes are planned; all {} promises hold.{}", bikes, promised, more);
    }
    return fmt::format("{} bikes are planned; {} of {} promises would break: {}.{}", bikes,
                       late.size(), promised, listed(late), more);
  }

  const Pictured& p_;
  const plan::PlanInput& input_;
  int end_;
  PlanView view_;
};

std::string standing_of(const PlanView& view) {
  if (view.number == 0) {
    return "No plan is agreed yet: this is how it would be planned now, and it may be another tomorrow.";
  }
  const std::string agreed =
      fmt::format("Plan {}, agreed by {} on {} at {}.", view.number, view.agreed_by,
                  weekday_words(parse_day(view.agreed->substr(0, 10)).value_or(Day{})),
                  view.agreed->substr(11, 5));
  if (view.out_of_date.empty()) return agreed + " Nothing in it is out of date.";
  return agreed + " It is out of date.";
}

}  // namespace

PlanView picture_of(const Pictured& pictured) { return Picture(pictured).draw(); }

std::vector<bool> pinned_tasks(const AgreedInput& agreed, const State& state) {
  std::vector<bool> pinned(agreed.held.size());
  for (std::size_t task = 0; task < pinned.size(); ++task) {
    const HeldBy held = agreed.held[task];
    if (held != HeldBy::kPin && held != HeldBy::kFrozen) continue;
    const trade::PlannedWork* work = agreed_work(agreed, state, static_cast<int>(task));
    pinned[task] = work != nullptr && !work->pinned_by.empty();
  }
  return pinned;
}

namespace {

/// Work keeps the stand that the agreed plan gave it; what does not move is given its stand first.
std::vector<StandWish> stand_wishes(const AgreedInput& agreed, const State& state) {
  std::vector<StandWish> wishes(agreed.input.tasks.size());
  for (std::size_t task = 0; task < wishes.size(); ++task) {
    const trade::PlannedWork* work = agreed_work(agreed, state, static_cast<int>(task));
    if (work == nullptr) continue;
    wishes[task] = {.stand = work->stand, .fixed = agreed.held[task] != HeldBy::kNothing};
  }
  return wishes;
}

}  // namespace

std::vector<int> stands_of(const AgreedInput& agreed, const State& state,
                           const plan::ShopPlan& plan) {
  return stand_numbers(agreed.input, plan, stand_wishes(agreed, state));
}

std::vector<int> stands_of(const Proposal& proposal) {
  std::vector<StandWish> wishes = stand_wishes(proposal.agreed, *proposal.state);
  if (proposal.move && proposal.move->stand > 0) {
    wishes[at(proposal.move->task)] = {.stand = proposal.move->stand, .fixed = true};
  }
  return stand_numbers(proposal.agreed.input, proposal.found.plan, wishes);
}

Result<PlanView> view_of_plan(const trade::Trade& trade, const State& state,
                              const LocalTime& now) {
  const auto agreed = agreed_input(trade, state, now);
  if (!agreed) return std::unexpected(agreed.error());
  auto mended = mended_plan(*agreed, state);
  if (!mended) return std::unexpected(mended.error());
  const plan::ShopPlan& days = *mended;
  const plan::ShopPlan& plan = agreed->number > 0 ? agreed->kept : days;
  const std::vector<int> stands = stands_of(*agreed, state, plan);
  PlanView view = picture_of({.agreed = *agreed, .state = state, .plan = plan, .days = days,
                              .stands = stands, .pinned = pinned_tasks(*agreed, state),
                              .as_agreed = agreed->number > 0});
  view.number = agreed->number;
  view.out_of_date = out_of_date(*agreed, state);
  if (state.agreed->plan) {
    view.agreed_by = state.agreed->plan->who;
    const auto local = local_time(state.settings.time_zone, state.agreed->plan->agreed);
    if (!local) return std::unexpected(local.error());
    view.agreed = local_text(local->day, local->minute);
  }
  view.standing = standing_of(view);
  return view;
}

}  // namespace rollwright::shop
