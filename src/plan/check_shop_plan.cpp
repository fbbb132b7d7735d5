#include "plan/check_shop_plan.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include <fmt/format.h>

// Nothing of the planner's own arithmetic is used here: hours, arrivals, days and scores are worked
// out again, in the plainest way, from the input.
namespace rollwright::plan {
namespace {

constexpr int kPastAll = 2'000'000'000;

class Inspection {
 public:
  Inspection(const PlanInput& input, const ShopPlan& plan, double confidence)
      : input_(input), plan_(plan), confidence_(confidence) {}

  std::vector<std::string> run() {
    if (!shapes_hold()) return std::move(found_);
    for (std::size_t task = 0; task < input_.tasks.size(); ++task) check_task(task);
    check_people();
    check_areas();
    check_bikes();
    check_orders();
    check_score();
    return std::move(found_);
  }

 private:
  template <class... Parts>
  void say(fmt::format_string<Parts...> form, Parts&&... parts) {
    found_.push_back(fmt::format(form, std::forward<Parts>(parts)...));
  }

  bool shapes_hold() {
    if (plan_.tasks.size() != input_.tasks.size() || plan_.orders.size() != input_.orders.size()) {
      say("the plan has {} tasks and {} orders, the input {} and {}", plan_.tasks.size(),
          plan_.orders.size(), input_.tasks.size(), input_.orders.size());
      return false;
    }
    for (std::size_t at = 0; at < plan_.tasks.size(); ++at) {
      const PlannedTask& placed = plan_.tasks[at];
      if (placed.task != static_cast<int>(at)) say("entry {} names another task", at);
      if (placed.segments.empty()) continue;
      if (placed.person < 0 || placed.person >= static_cast<int>(input_.people.size())) {
        say("{} is given to nobody", input_.tasks[at].id);
      }
    }
    for (std::size_t at = 0; at < plan_.orders.size(); ++at) {
      if (plan_.orders[at].order != static_cast<int>(at)) say("entry {} names another order", at);
    }
    return found_.empty();
  }

  bool to_be_done(std::size_t task) const {
    return !input_.tasks[task].done &&
           input_.orders[static_cast<std::size_t>(input_.tasks[task].order)].released;
  }
  bool kept(std::size_t task) const {
    const Task& what = input_.tasks[task];
    return what.previous && (what.pinned || what.previous->start < input_.frozen_until);
  }
  const std::vector<Window>& segments(std::size_t task) const { return plan_.tasks[task].segments; }
  int first(std::size_t task) const { return segments(task).front().from; }
  int last(std::size_t task) const { return segments(task).back().to; }
  const Person& doer(std::size_t task) const {
    return input_.people[static_cast<std::size_t>(plan_.tasks[task].person)];
  }

  int parts_minute(const Arrival& arrival) const {
    if (arrival.known) {
      return static_cast<int>((*arrival.known - input_.first_day).count()) * 1440 +
             input_.delivery_minute;
    }
    const double days = days_at(arrival, confidence_);
    int left = static_cast<int>(std::ceil(days - 1e-9));
    if (left <= 0) return input_.now;
    for (const int day : input_.delivery_days) {
      if (day > input_.now / 1440 && --left == 0) return day * 1440 + input_.delivery_minute;
    }
    return kPastAll;
  }

  void check_task(std::size_t at) {
    const Task& task = input_.tasks[at];
    if (segments(at).empty()) {
      if (to_be_done(at) && kept(at)) say("{} is frozen but left out", task.id);
      return;
    }
    if (!to_be_done(at)) {
      say("{} is done or not released, yet it is planned", task.id);
      return;
    }
    check_segments(at);
    check_minutes(at);
    check_pause(at);
    check_before(at);
    check_second_person(at);
    check_hands(at);
    if ((doer(at).skills & task.any_of) == 0) {
      say("{} is given to {}, who lacks the skill", task.id, doer(at).id);
    }
    if (!kept(at)) {
      if (first(at) < input_.now) say("{} starts before now", task.id);
    } else if (plan_.tasks[at].person != task.previous->person ||
               first(at) != task.previous->start) {
      say("{} is frozen but was moved", task.id);
    } else if (task.hands > 1 && plan_.tasks[at].lending != task.previous->lending) {
      say("{} is frozen but others lend a hand", task.id);
    }
  }

  bool lends(std::size_t person, std::size_t at) const {
    return (plan_.tasks[at].lending >> person & 1) != 0;
  }

  /// Others than the doer, as many as it takes, each of the shop and there from start to end.
  void check_hands(std::size_t at) {
    const Task& task = input_.tasks[at];
    int lending = 0;
    for (std::size_t person = 0; person < 64; ++person) {
      if (!lends(person, at)) continue;
      ++lending;
      if (person >= input_.people.size()) {
        say("somebody unknown lends a hand at {}", task.id);
        return;
      }
      const Person& who = input_.people[person];
      if (static_cast<int>(person) == plan_.tasks[at].person) {
        say("{} is given to {}, who is to lend a hand as well", task.id, who.id);
      }
      if (who.skills == 0) say("{} lends a hand at {} without any skill", who.id, task.id);
      for (int minute = first(at); minute < last(at); ++minute) {
        const bool there = std::ranges::any_of(who.hours, [minute](const Window& hours) {
          return hours.from <= minute && minute < hours.to;
        });
        if (there) continue;
        say("{} lends a hand at {} but is not there at minute {}", who.id, task.id, minute);
        break;
      }
    }
    if (lending != task.hands - 1) {
      say("{} takes {} people at once and has {}", task.id, task.hands, 1 + lending);
    }
    if (task.hands > 1 && segments(at).size() > 1) {
      say("{} takes several people and must be done in one go but is interrupted", task.id);
    }
  }

  void check_segments(std::size_t at) {
    int before = -1;
    for (const Window& part : segments(at)) {
      if (!(before <= part.from && part.from < part.to)) {
        say("the segments of {} do not follow one another", input_.tasks[at].id);
      }
      before = part.to;
      const bool inside = std::ranges::any_of(doer(at).hours, [&](const Window& hours) {
        return hours.from <= part.from && part.to <= hours.to;
      });
      if (!inside) {
        say("{} is planned outside the hours of {}", input_.tasks[at].id, doer(at).id);
      }
    }
    // Whoever starts a task stays on it: hours between start and end belong to it.
    int present = 0;
    int worked = 0;
    for (const Window& hours : doer(at).hours) {
      present += std::max(0, std::min(hours.to, last(at)) - std::max(hours.from, first(at)));
    }
    for (const Window& part : segments(at)) worked += part.to - part.from;
    if (worked != present) {
      say("{} is left by {} for something else in the middle", input_.tasks[at].id, doer(at).id);
    }
  }

  void check_minutes(std::size_t at) {
    int worked = 0;
    for (const Window& part : segments(at)) worked += part.to - part.from;
    const Disturbance& odds = input_.disturbance;
    const double share =
        doer(at).productive * (1 - (odds.walk_in_least + odds.walk_in_most) / 2);
    const double done = worked * share;  // hands-on minutes that fit into the time planned
    const double wanted = input_.tasks[at].minutes;
    // Too little, or a whole minute more than it takes.
    if (done + 1e-6 < wanted || (worked > 1 && done - share > wanted - 1e-10)) {
      say("{} has {} minutes at work planned, which is {:.2f} hands-on instead of {:.2f}",
          input_.tasks[at].id, worked, done, wanted);
    }
  }

  void check_pause(std::size_t at) {
    if (kept(at)) return;  // the last plan put it there; nothing may move it
    const Pause pause = input_.tasks[at].pause;
    if (pause == Pause::kNever && segments(at).size() > 1) {
      say("{} must be done in one go but is interrupted", input_.tasks[at].id);
    }
    if (pause == Pause::kWithinDay && first(at) / 1440 != (last(at) - 1) / 1440) {
      say("{} must not be left overnight but is", input_.tasks[at].id);
    }
  }

  void check_before(std::size_t at) {
    const Task& task = input_.tasks[at];
    for (const int index : task.after) {
      const auto before = static_cast<std::size_t>(index);
      if (input_.tasks[before].done) continue;
      if (segments(before).empty() ||
          last(before) + input_.tasks[before].unattended > first(at)) {
        say("{} starts before {} is over", task.id, input_.tasks[before].id);
      }
    }
    for (const int part : task.parts) {
      const Arrival& arrival = input_.arrivals[static_cast<std::size_t>(part)];
      // A frozen task may have started before now with parts that were in hand then.
      if (parts_minute(arrival) > std::max(first(at), kept(at) ? input_.now : 0)) {
        say("{} starts before {} is in hand", task.id, arrival.what);
      }
    }
  }

  void check_second_person(std::size_t at) {
    for (const int index : input_.tasks[at].not_by_doer_of) {
      const auto other = static_cast<std::size_t>(index);
      const bool done = input_.tasks[other].done;
      const int by = done ? input_.tasks[other].done_by : plan_.tasks[other].person;
      const std::uint64_t lent =
          done ? input_.tasks[other].done_lending : plan_.tasks[other].lending;
      if (by == plan_.tasks[at].person || (lent >> plan_.tasks[at].person & 1) != 0) {
        say("{} and {} are both the work of {}, but the second needs another person",
            input_.tasks[other].id, input_.tasks[at].id, doer(at).id);
      }
    }
  }

  /// Every pair of spans that overlap, said once.
  template <class Belongs>
  void no_overlap(const Belongs& belongs, const std::string& whose) {
    std::vector<std::size_t> own;
    for (std::size_t at = 0; at < input_.tasks.size(); ++at) {
      if (!segments(at).empty() && belongs(at)) own.push_back(at);
    }
    std::ranges::sort(own, {}, [&](std::size_t at) { return first(at); });
    for (std::size_t next = 1; next < own.size(); ++next) {
      if (last(own[next - 1]) > first(own[next])) {
        say("{}: {} and {} overlap", whose, input_.tasks[own[next - 1]].id,
            input_.tasks[own[next]].id);
      }
    }
  }

  void check_people() {
    for (std::size_t person = 0; person < input_.people.size(); ++person) {
      no_overlap(
          [&](std::size_t at) {
            return plan_.tasks[at].person == static_cast<int>(person) || lends(person, at);
          },
          input_.people[person].id + " does two things at once");
    }
  }

  void check_bikes() {
    for (std::size_t order = 0; order < input_.orders.size(); ++order) {
      no_overlap(
          [&](std::size_t at) {
            return input_.tasks[at].on_bike && input_.tasks[at].order == static_cast<int>(order);
          },
          "the bike of " + input_.orders[order].id + " is in two places");
    }
  }

  void check_areas() {
    for (std::size_t area = 0; area < input_.areas.size(); ++area) {
      std::map<int, int> changes;  // a stand given back at a minute is free at that minute
      for (std::size_t at = 0; at < input_.tasks.size(); ++at) {
        if (segments(at).empty() || input_.tasks[at].area != static_cast<int>(area)) continue;
        ++changes[first(at)];
        --changes[last(at)];
      }
      int taken = 0;
      for (const auto& [minute, change] : changes) {
        taken += change;
        if (taken <= input_.areas[area].stands) continue;
        say("{} holds {} at minute {}, more than its {} stands", input_.areas[area].id, taken,
            minute, input_.areas[area].stands);
        break;
      }
    }
  }

  struct Outcome {
    bool anything = false;
    bool all_placed = true;
    int ready = 0;
    int kit = 0;
    int days_late = 0;
  };

  Outcome outcome_of(std::size_t order) const {
    Outcome outcome{.kit = input_.now};
    for (std::size_t at = 0; at < input_.tasks.size(); ++at) {
      if (input_.tasks[at].order != static_cast<int>(order) || !to_be_done(at)) continue;
      outcome.anything = true;
      for (const int part : input_.tasks[at].parts) {
        outcome.kit = std::max(
            outcome.kit, parts_minute(input_.arrivals[static_cast<std::size_t>(part)]));
      }
      if (segments(at).empty()) {
        outcome.all_placed = false;
      } else {
        outcome.ready = std::max(outcome.ready, last(at) + input_.tasks[at].unattended);
      }
    }
    if (!outcome.all_placed) outcome.ready = input_.days * 1440;
    const auto& due = input_.orders[order].due;
    if (outcome.anything && due) {
      const int ready_day = outcome.ready / 1440;
      const int due_day = static_cast<int>((*due - input_.first_day).count());
      outcome.days_late = std::max(0, ready_day - due_day);
    }
    return outcome;
  }

  void check_orders() {
    for (std::size_t order = 0; order < input_.orders.size(); ++order) {
      const Outcome outcome = outcome_of(order);
      const PlannedOrder& said = plan_.orders[order];
      const bool known = outcome.anything && outcome.all_placed;
      const std::string& id = input_.orders[order].id;
      if (said.ready.has_value() != known || (known && *said.ready != outcome.ready)) {
        say("order {} is not ready when the plan says", id);
      }
      if (known && said.ready_day != input_.first_day + std::chrono::days(outcome.ready / 1440)) {
        say("order {} is not ready on the day the plan says", id);
      }
      if (said.days_late != outcome.days_late) {
        say("order {} is {} days late, not {}", id, outcome.days_late, said.days_late);
      }
      int explained = 0;
      for (const Hold& hold : said.bound_by) explained += hold.minutes;
      if (known && explained != std::max(0, outcome.ready - input_.now)) {
        say("what holds order {} adds up to {} minutes, not {}", id, explained,
            outcome.ready - input_.now);
      }
    }
  }

  double uneven_hours() const {
    std::map<int, std::map<std::size_t, std::pair<double, double>>> weeks;  // at work, given
    for (std::size_t who = 0; who < input_.people.size(); ++who) {
      for (const Window& hours : input_.people[who].hours) {
        if (hours.to <= input_.now) continue;
        weeks[hours.from / 10080][who].first += hours.to - std::max(hours.from, input_.now);
      }
    }
    for (std::size_t at = 0; at < input_.tasks.size(); ++at) {
      if (segments(at).empty()) continue;
      auto& [at_work, given] = weeks[std::max(first(at), input_.now) / 10080]
                                    [static_cast<std::size_t>(plan_.tasks[at].person)];
      for (const Window& part : segments(at)) given += part.to - part.from;
      for (std::size_t who = 0; who < input_.people.size(); ++who) {
        if (!lends(who, at)) continue;
        weeks[std::max(first(at), input_.now) / 10080][who].second += last(at) - first(at);
      }
    }
    double hours = 0;
    for (const auto& [week, people] : weeks) {
      double all_at_work = 0;
      double all_given = 0;
      for (const auto& [who, own] : people) {
        all_at_work += own.first;
        all_given += own.second;
      }
      for (const auto& [who, own] : people) {
        const double even = all_at_work > 0 ? all_given * own.first / all_at_work : 0;
        hours += std::abs(own.second - even) / 120;
      }
    }
    return hours;
  }

  void check_score() {
    PlanScore score;
    int end = input_.now;
    for (std::size_t order = 0; order < input_.orders.size(); ++order) {
      const Outcome outcome = outcome_of(order);
      if (!outcome.anything) continue;
      end = std::max(end, outcome.ready);
      score.weighted_days_late += input_.orders[order].weight * outcome.days_late;
      score.kit_days_waiting += std::max(0, outcome.ready - outcome.kit) / 1440.0;
    }
    score.last_ready_days = (end - input_.now) / 1440.0;
    for (std::size_t at = 0; at < input_.tasks.size(); ++at) {
      const auto& before = input_.tasks[at].previous;
      if (!before || !to_be_done(at)) continue;
      const bool same = !segments(at).empty() && plan_.tasks[at].person == before->person &&
                        first(at) / 1440 == before->start / 1440;
      score.moved += same ? 0 : 1;
    }
    score.uneven_hours = uneven_hours();
    const auto differs = [](double a, double b) { return std::abs(a - b) > 1e-6; };
    if (differs(score.weighted_days_late, plan_.score.weighted_days_late) ||
        score.moved != plan_.score.moved ||
        differs(score.kit_days_waiting, plan_.score.kit_days_waiting) ||
        differs(score.last_ready_days, plan_.score.last_ready_days) ||
        differs(score.uneven_hours, plan_.score.uneven_hours)) {
      say("the score does not follow from the plan");
    }
  }

  const PlanInput& input_;
  const ShopPlan& plan_;
  double confidence_;
  std::vector<std::string> found_;
};

}  // namespace

std::vector<std::string> check_shop_plan(const PlanInput& input, const ShopPlan& plan,
                                         double arrival_confidence) {
  return Inspection(input, plan, arrival_confidence).run();
}

}  // namespace rollwright::plan
