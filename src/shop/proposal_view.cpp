#include <algorithm>
#include <map>
#include <set>

#include <fmt/format.h>

#include "base/index.hpp"
#include "base/text.hpp"
#include "plan/calendar.hpp"
#include "plan/plan_changes.hpp"
#include "plan/promise.hpp"
#include "shop/hold_for_odds.hpp"
#include "shop/plan_picture.hpp"
#include "shop/plan_words.hpp"
#include "shop/proposal.hpp"

namespace rollwright::shop {
namespace {

constexpr int kOddsDraws = 400;  // a share of 100 is known to 2.5 of 100
constexpr std::size_t kMostOdds = 6;  // promises for which odds are drawn

/// Nothing within the horizon is later than any day.
bool is_later(const std::optional<Day>& day, const std::optional<Day>& than) {
  if (!than) return false;
  return !day || *than < *day;
}

class ProposalPicture {
 public:
  explicit ProposalPicture(const Proposal& proposal)
      : proposal_(proposal), agreed_(proposal.agreed), state_(*proposal.state), plan_(proposal.found.plan),
        changed_(changes_of(agreed_, state_, plan_)),
        before_(changes_of(agreed_, state_, proposal.before)) {}

  ProposalView draw() {
    view_.id = proposal_.id;
    view_.over = agreed_.number;
    view_.seconds = proposal_.seconds;
    view_.placements = proposal_.found.placements;
    view_.reasons = out_of_date(agreed_, state_);
    add_changes();
    add_hands();
    add_orders();
    if (proposal_.move || proposal_.let_go) add_odds();
    view_.before = figures_of(proposal_.before, before_);
    view_.after = figures_of(plan_, changed_);
    view_.plan = picture();
    view_.sentence = sentence();
    return std::move(view_);
  }

 private:
  const trade::Order& order_of(int task) const {
    return *agreed_.workshop.orders[at(agreed_.input.tasks[at(task)].order)];
  }

  ChangeOfWork change_of(int task) const {
    const plan::Task& what = agreed_.workshop.input.tasks[at(task)];
    const trade::Operation& operation = *agreed_.workshop.operations[at(task)];
    ChangeOfWork change{.order = order_of(task).id.text, .rider = order_of(task).rider.name,
                        .operation = operation.id, .name = operation.name};
    if (what.previous) {
      change.from_person = person_words(state_, agreed_.input, what.previous->person);
      change.from = local_text(agreed_.input.first_day, what.previous->start);
    }
    const plan::PlannedTask& placed = plan_.tasks[at(task)];
    if (placed.placed()) {
      change.to_person = person_words(state_, agreed_.input, placed.person);
      change.to = local_text(agreed_.input.first_day, placed.start());
    }
    return change;
  }

  void add_changes() {
    if (proposal_.move) {
      view_.changes.push_back(change_of(proposal_.move->task));
      view_.changes.back().because = {"moved by hand"};
    }
    for (const plan::TaskChange& each : changed_.tasks) {
      if (proposal_.move && proposal_.move->task == each.task) continue;
      ChangeOfWork change = change_of(each.task);
      change.because = because_words(agreed_, state_, each.because);
      view_.changes.push_back(std::move(change));
    }
    for (const plan::PlannedTask& placed : plan_.tasks) {
      const auto& was = agreed_.workshop.input.tasks[at(placed.task)].previous;
      const bool by_hand = proposal_.move && proposal_.move->task == placed.task;
      if (!was || by_hand || !placed.placed() || placed.start() == was->start) continue;
      const bool same = placed.person == was->person && placed.start() / plan::kMinutesPerDay ==
                                                            was->start / plan::kMinutesPerDay;
      if (same) ++view_.same_day;
    }
  }

  void add_hands() {
    for (const plan::HandsChange& each : changed_.hands) {
      const plan::PlannedTask& placed = plan_.tasks[at(each.task)];
      const trade::Operation& operation = *agreed_.workshop.operations[at(each.task)];
      view_.hands.push_back({.order = order_of(each.task).id.text,
                             .rider = order_of(each.task).rider.name,
                             .operation = operation.id, .name = operation.name,
                             .person = person_words(state_, agreed_.input, placed.person),
                             .start = local_text(agreed_.input.first_day, placed.start()),
                             .from = people_words(state_, agreed_.input, each.was),
                             .to = people_words(state_, agreed_.input, each.is)});
    }
  }

  /// Operations that go to another person or day without having been moved by hand themselves.
  int moved_others() const {
    const int by_hand = proposal_.move ? 1 : 0;
    return static_cast<int>(view_.changes.size()) - by_hand;
  }

  void add_orders() {
    for (std::size_t index = 0; index < plan_.orders.size(); ++index) {
      const plan::PlannedOrder& before = proposal_.before.orders[index];
      const plan::PlannedOrder& after = plan_.orders[index];
      const auto risk = std::ranges::find(changed_.at_risk, static_cast<int>(index),
                                          &plan::PromiseAtRisk::order);
      const bool at_risk = risk != changed_.at_risk.end();
      const bool was_at_risk = std::ranges::find(before_.at_risk, static_cast<int>(index),
                                                 &plan::PromiseAtRisk::order) !=
                               before_.at_risk.end();
      const bool by_hand = proposal_.move || proposal_.let_go;
      // A move says what it does; planning anew says what is at risk now.
      const bool at_stake = by_hand ? at_risk != was_at_risk : at_risk;
      const bool is_moved = moved_order() == static_cast<int>(index);
      if (before.ready_day == after.ready_day && !at_stake && !is_moved) continue;
      const trade::Order& order = *agreed_.workshop.orders[index];
      ChangeOfDay change{.order = order.id.text, .rider = order.rider.name,
                         .promised = agreed_.input.orders[index].due,
                         .ready_before = before.ready_day, .ready_after = after.ready_day,
                         .was_at_risk = was_at_risk,
                         .at_risk = at_risk};
      if (at_risk && risk->held_by) {
        change.held_by = plan::in_words(agreed_.input, *risk->held_by);
      }
      view_.orders.push_back(std::move(change));
    }
    // What was moved first, then what comes out later, then the rest.
    std::ranges::stable_sort(view_.orders, {}, [&](const ChangeOfDay& change) {
      return std::pair(change.order != proposal_.wish.order,
                       !is_later(change.ready_after, change.ready_before));
    });
  }

  int moved_order() const {
    const auto task = proposal_.move ? std::optional(proposal_.move->task) : proposal_.let_go;
    return task ? agreed_.input.tasks[at(*task)].order : -1;
  }

  /// The same draws for both, so that what differs is the move.
  void add_odds() {
    std::vector<int> orders;
    std::vector<ChangeOfDay*> rows;
    for (ChangeOfDay& change : view_.orders) {
      if (!change.promised || rows.size() == kMostOdds) continue;
      const auto order = std::ranges::find(agreed_.input.orders, change.order, &plan::Order::id);
      orders.push_back(static_cast<int>(order - agreed_.input.orders.begin()));
      rows.push_back(&change);
    }
    if (rows.empty()) return;
    std::vector<HeldPlace> before = places_of(agreed_);
    std::vector<HeldPlace> after = before;
    if (const auto was = pinned_before()) before.push_back(*was);
    if (proposal_.move) after.push_back({proposal_.move->task, proposal_.move->where, true});
    const auto as_is = odds(before, proposal_.before, orders);
    const auto then = odds(after, plan_, orders);
    for (std::size_t row = 0; row < rows.size(); ++row) {
      if (as_is) rows[row]->kept_before = plan::chance_by((*as_is)[row], *rows[row]->promised);
      if (then) rows[row]->kept_after = plan::chance_by((*then)[row], *rows[row]->promised);
    }
  }

  /// Where the operation is by hand in the agreed plan.
  std::optional<HeldPlace> pinned_before() const {
    const auto task = proposal_.move ? std::optional(proposal_.move->task) : proposal_.let_go;
    if (!task) return {};
    const trade::PlannedWork* work = agreed_work(agreed_, state_, *task);
    const auto& was = agreed_.workshop.input.tasks[at(*task)].previous;
    if (work == nullptr || work->pinned_by.empty() || !was) return {};
    return HeldPlace{*task, *was, true};
  }

  /// With work taken up in the turn of a plan.
  Result<std::vector<plan::Promise>> odds(const std::vector<HeldPlace>& places,
                                          const plan::ShopPlan& plan,
                                          const std::vector<int>& orders) const {
    plan::PlanInput input = agreed_.uncertain;
    for (const plan::PlannedTask& placed : plan.tasks) {
      auto& previous = input.tasks[at(placed.task)].previous;
      previous.reset();
      if (placed.placed()) previous = placed.where();
    }
    hold_for_odds(input, places);
    return plan::promises(input, orders, {.draws = kOddsDraws, .seed = kOddsSeed, .threads = 2});
  }

  /// Work that pins take along counts as moved too, though the search has no choice about it.
  Figures figures_of(const plan::ShopPlan& plan, const plan::PlanChanges& changes) const {
    plan::PlanScore score = plan.score;
    score.moved = static_cast<int>(changes.tasks.size());
    const trade::PlanSettings& s = state_.agreed->settings;
    return {.days_late = score.weighted_days_late, .moved = score.moved,
            .kit_days = score.kit_days_waiting, .last_days = score.last_ready_days,
            .uneven_hours = score.uneven_hours,
            .cost = plan::cost_of(score, {.day_late = s.day_late, .moved = s.moved,
                                          .kit_day = s.kit_day, .last_day = s.last_day,
                                          .uneven_hour = s.uneven_hour})};
  }

  PlanView picture() const {
    const std::vector<int> stands = stands_of(proposal_);
    std::vector<bool> pinned = pinned_tasks(agreed_, state_);
    if (proposal_.move) pinned[at(proposal_.move->task)] = true;
    PlanView view = picture_of({.agreed = agreed_, .state = state_, .plan = plan_, .days = plan_,
                                .stands = stands, .pinned = std::move(pinned)});
    view.number = agreed_.number;
    view.standing = fmt::format("Proposed over plan {}; not agreed.", agreed_.number);
    return view;
  }

  static std::string day_words(const std::optional<Day>& day) {
    return day ? "on " + weekday_words(*day) : std::string("beyond the year");
  }

  /// "order 2031 is ready on Thu 3 Dec instead of on Tue 1 Dec; its promise is kept in 71 of 100"
  static std::string day_sentence(const ChangeOfDay& change) {
    std::string text = fmt::format("order {} is ready {}", change.order, day_words(change.ready_after));
    if (change.ready_after == change.ready_before) {
      text += " as before";
    } else {
      text += " instead of " + day_words(change.ready_before);
    }
    if (change.promised && change.kept_after) {
      const int after = static_cast<int>(100 * *change.kept_after + 0.5);
      const int before = static_cast<int>(100 * change.kept_before.value_or(0) + 0.5);
      text += fmt::format("; its promise, {}, is {}kept in {} of 100{}",
                          weekday_words(*change.promised), after == before ? "" : "now ", after,
                          after == before ? std::string(" as before")
                                          : fmt::format(" instead of {}", before));
    }
    return text;
  }

  [[nodiscard]] std::string moves_words() const {
    const int others = moved_others();
    if (others == 0) return proposal_.move ? "nothing else moves" : "nothing moves";
    std::set<std::string> orders;
    for (const ChangeOfWork& change : view_.changes) orders.insert(change.order);
    return fmt::format("{} {}operation{} of {} order{} move{}", others,
                       proposal_.move ? "other " : "", others == 1 ? "" : "s", orders.size(),
                       orders.size() == 1 ? "" : "s", others == 1 ? "s" : "");
  }

  std::string sentence() const {
    if (agreed_.number == 0) return view_.plan.sentence + " It would be the first plan agreed.";
    std::vector<std::string> pieces;
    for (const ChangeOfDay& change : view_.orders) {
      if (change.order == proposal_.wish.order) pieces.push_back(day_sentence(change));
    }
    std::vector<std::string> later;
    std::vector<std::string> newly;
    std::vector<std::string> still;
    for (const ChangeOfDay& change : view_.orders) {
      if (change.at_risk) (change.was_at_risk ? still : newly).push_back(change.order);
      if (change.order == proposal_.wish.order) continue;
      if (is_later(change.ready_after, change.ready_before)) {
        later.push_back(fmt::format("order {} is ready {} instead of {}", change.order,
                                    day_words(change.ready_after), day_words(change.ready_before)));
      }
    }
    constexpr std::size_t kMostNamed = 3;
    for (std::size_t i = 0; i < std::min(later.size(), kMostNamed); ++i) pieces.push_back(later[i]);
    if (later.size() > kMostNamed) {
      pieces.push_back(fmt::format("{} more are ready later", later.size() - kMostNamed));
    }
    pieces.push_back(moves_words());
    if (!newly.empty()) pieces.push_back("promises newly at risk: " + listed(newly));
    if (!still.empty()) pieces.push_back("at risk as before: " + listed(still));
    std::string text = join(pieces, "; ") + ".";
    text[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(text[0])));
    return text;
  }

  const Proposal& proposal_;
  const AgreedInput& agreed_;
  const State& state_;
  const plan::ShopPlan& plan_;
  plan::PlanChanges changed_;
  plan::PlanChanges before_;
  ProposalView view_;
};

}  // namespace

ProposalView view_of(const Proposal& proposal) {
  return ProposalPicture(proposal).draw();
}

}  // namespace rollwright::shop
