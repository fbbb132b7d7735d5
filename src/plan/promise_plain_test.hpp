#pragma once

#include <algorithm>
#include <bit>
#include <tuple>
#include <utility>
#include <vector>

#include "base/index.hpp"
#include "plan/promise_draw.hpp"
#include "plan/shop_plan.hpp"
#include "plan/workshop.hpp"

namespace rollwright::plan {

/// The rules of Dispatcher, played out minute by minute with nothing remembered that could be
/// looked up: no heap, no bits, no wake-up times. Slow, short, and the witness for the fast one.
class PlainShop {
 public:
  PlainShop(const PlanInput& input, const DrawSource& source, const Draw& draw)
      : input_(input),
        source_(source),
        draw_(draw),
        sequence_(take_up_order(input)),
        start_(input.tasks.size(), -1),
        end_(input.tasks.size(), -1),
        doer_(input.tasks.size(), -1),
        lent_(input.tasks.size()),
        kept_from_(input.people.size(), -1) {}

  void run() {
    for (now_ = 0; now_ < input_.days * kMinutesPerDay; ++now_) {
      kept_from_.assign(input_.people.size(), -1);
      for (const int task : sequence_) {
        if (start_[at(task)] < 0 && could_start(task)) hand_out(task);
      }
    }
  }
  int start(int task) const { return start_[at(task)]; }
  int end(int task) const { return end_[at(task)]; }

 private:
  const Task& task_at(int index) const { return input_.tasks[at(index)]; }
  bool frozen(int task) const { return is_frozen(input_, task_at(task)); }
  bool runs(int task) const { return start_[at(task)] >= 0 && end_[at(task)] > now_; }

  bool could_start(int index) const {
    const Task& task = task_at(index);
    if (now_ < (frozen(index) ? task.previous->start : input_.now)) return false;
    for (const int before : task.after) {
      if (task_at(before).done) continue;
      if (start_[at(before)] < 0) return false;
      if (end_[at(before)] + task_at(before).unattended > now_) return false;
    }
    for (const int part : task.parts) {
      if (!frozen(index) && draw_.in_hand[at(part)] > now_) return false;
    }
    int in_area = 0;
    for (const int other : sequence_) {
      if (!runs(other)) continue;
      if (task_at(other).area == task.area) ++in_area;
      const bool same_bike = task_at(other).on_bike && task_at(other).order == task.order;
      if (task.on_bike && same_bike) return false;
    }
    return in_area < input_.areas[at(task.area)].stands;
  }

  int people() const { return static_cast<int>(input_.people.size()); }
  int skills_of(int person) const { return std::popcount(input_.people[at(person)].skills); }

  /// Does it or lends a hand at it.
  bool is_at(int task, int person) const {
    return doer_[at(task)] == person ||
           std::ranges::find(lent_[at(task)], person) != lent_[at(task)].end();
  }
  bool has_touched(int task, int person) const {
    const Task& what = task_at(task);
    if (!what.done) return is_at(task, person);
    return what.done_by == person || (what.done_lending >> person & 1) != 0;
  }

  bool is_free(int person) const {
    for (const int task : sequence_) {
      if (runs(task) && is_at(task, person)) return false;
    }
    if (source_.rate(draw_, person, now_ / kMinutesPerDay) == 0) return false;
    for (const Window& hours : input_.people[at(person)].hours) {
      if (hours.from <= now_ && now_ < hours.to) return true;
    }
    return false;
  }

  int end_if_started(int task, int person) const {
    const Pause pause = frozen(task)              ? Pause::kAnywhere
                        : task_at(task).hands > 1 ? Pause::kNever
                                                  : task_at(task).pause;
    int left = draw_.work[at(task)];
    bool paused = false;
    for (int minute = now_; minute < input_.days * kMinutesPerDay; ++minute) {
      const int day = minute / kMinutesPerDay;
      if (pause == Pause::kWithinDay && day != now_ / kMinutesPerDay) return -1;
      bool at_work = false;
      for (const Window& hours : input_.people[at(person)].hours) {
        if (hours.from <= minute && minute < hours.to) at_work = true;
      }
      if (!at_work) paused = true;
      if (paused && pause == Pause::kNever) return -1;
      if (at_work) left -= source_.rate(draw_, person, day);
      if (left <= 0) return minute + 1;
    }
    return -1;
  }

  bool may(int index, int person) const {
    const Task& task = task_at(index);
    if ((input_.people[at(person)].skills & task.any_of) == 0) return false;
    if (frozen(index)) return task.previous->person == person;
    for (const int other : task.not_by_doer_of) {
      if (has_touched(other, person)) return false;
    }
    for (const int witness : sequence_) {
      const auto& barred = task_at(witness).not_by_doer_of;
      if (std::ranges::find(barred, index) == barred.end()) continue;
      if (!leaves_enough(index, person, witness)) return false;
    }
    return true;
  }

  bool leaves_enough(int index, int person, int witness) const {
    const std::vector<int> left = left_for(witness);
    const bool takes_one = std::ranges::find(left, person) != left.end();
    return !takes_one || static_cast<int>(left.size()) > needed_for(witness, index);
  }

  std::vector<int> left_for(int witness) const {
    std::vector<int> left;
    for (int p = 0; p < people(); ++p) {
      bool able = (input_.people[at(p)].skills & task_at(witness).any_of) != 0;
      if (frozen(witness)) able = p == task_at(witness).previous->person;
      for (const int other : task_at(witness).not_by_doer_of) {
        if (has_touched(other, p)) able = false;
      }
      if (able) left.push_back(p);
    }
    return left;
  }

  int needed_for(int witness, int index) const {
    int needed = 1;
    for (const int other : task_at(witness).not_by_doer_of) {
      const bool second = !task_at(other).not_by_doer_of.empty() && !task_at(other).done;
      if (second && other != index && start_[at(other)] < 0) ++needed;
    }
    return needed;
  }

  bool is_named(int task, int person) const {
    return frozen(task) && (task_at(task).previous->lending >> person & 1) != 0;
  }

  bool may_lend(int task, int doer, int person) const {
    if (person == doer || input_.people[at(person)].skills == 0) return false;
    if (is_named(task, person)) return true;
    for (const int witness : sequence_) {
      const auto& barred = task_at(witness).not_by_doer_of;
      if (std::ranges::find(barred, task) == barred.end()) continue;
      std::vector<int> left = left_for(witness);
      std::erase(left, doer);
      const int wanted = needed_for(witness, task) + task_at(task).hands - 1;
      const bool is_one = std::ranges::find(left, person) != left.end();
      if (is_one && static_cast<int>(left.size()) < wanted) return false;
    }
    return true;
  }

  bool keeps_appointment(int task, int person, int end) const {
    const int from = kept_from_[at(person)];
    return frozen(task) || from < 0 || end <= from;
  }

  /// In one go from there on, with no frozen start within.
  bool is_there(int person, int from, int minutes) const {
    const bool at_work = std::ranges::any_of(
        input_.people[at(person)].hours, [&](const Window& hours) {
          return hours.from <= from && from + minutes <= hours.to;
        });
    if (!at_work || source_.rate(draw_, person, from / kMinutesPerDay) == 0) return false;
    for (const int task : sequence_) {
      if (runs(task) && is_at(task, person) && end_[at(task)] > from) return false;
      if (!frozen(task) || !has_place_in(task, person)) continue;
      const int start = task_at(task).previous->start;
      if (from < start && start < from + minutes) return false;
    }
    return true;
  }

  bool has_place_in(int task, int person) const {
    return task_at(task).previous->person == person || is_named(task, person);
  }

  /// Fewest skills first.
  std::vector<int> by_skills() const {
    std::vector<int> sorted(input_.people.size());
    for (int person = 0; person < people(); ++person) sorted[at(person)] = person;
    std::ranges::stable_sort(sorted, {}, [&](int person) { return skills_of(person); });
    return sorted;
  }

  std::vector<int> lenders(int task, int doer, int end) const {
    std::vector<int> found;
    for (const bool named : {true, false}) {
      for (const int person : by_skills()) {
        if (static_cast<int>(found.size()) == task_at(task).hands - 1) break;
        if (is_named(task, person) != named || !may_lend(task, doer, person)) continue;
        if (!is_free(person) || !keeps_frozen_start(task, person, end)) continue;
        if (!keeps_appointment(task, person, end)) continue;
        const bool stays = std::ranges::any_of(
            input_.people[at(person)].hours, [&](const Window& hours) {
              return hours.from <= now_ && now_ < hours.to && end <= hours.to;
            });
        if (stays || frozen(task)) found.push_back(person);
      }
    }
    return found;
  }

  void appoint(int task) {
    const std::vector<int> everybody = by_skills();
    std::vector<int> doers;
    std::vector<std::vector<int>> others(input_.people.size());
    for (const int doer : everybody) {
      if (kept_from_[at(doer)] >= 0 || !may(task, doer)) continue;
      doers.push_back(doer);
      for (const int person : everybody) {
        const bool could = kept_from_[at(person)] < 0 && may_lend(task, doer, person);
        if (could) others[at(doer)].push_back(person);
      }
    }
    for (int from = now_; from <= now_ + 7 * kMinutesPerDay; ++from) {
      if (from / kMinutesPerDay >= input_.days) return;
      for (const int doer : doers) {
        const int rate = source_.rate(draw_, doer, from / kMinutesPerDay);
        if (rate == 0) continue;
        const int minutes = (draw_.work[at(task)] + rate - 1) / rate;
        if (!is_there(doer, from, minutes)) continue;
        std::vector<int> party = {doer};
        for (const int person : others[at(doer)]) {
          if (static_cast<int>(party.size()) == task_at(task).hands) break;
          if (is_there(person, from, minutes)) party.push_back(person);
        }
        if (static_cast<int>(party.size()) < task_at(task).hands) continue;
        for (const int person : party) kept_from_[at(person)] = from;
        return;
      }
    }
  }

  bool keeps_frozen_start(int index, int person, int end) const {
    if (frozen(index)) return true;
    for (const int other : sequence_) {
      if (!frozen(other) || !has_place_in(other, person)) continue;
      const int start = task_at(other).previous->start;
      if (now_ < start && start < end) return false;
    }
    return true;
  }

  bool somebody_is_free() const {
    for (int person = 0; person < people(); ++person) {
      if (is_free(person)) return true;
    }
    return false;
  }

  void hand_out(int task) {
    std::vector<std::pair<int, int>> able;  // end, person
    int soonest = kNever;
    for (int person = 0; person < static_cast<int>(input_.people.size()); ++person) {
      if (!may(task, person) || !is_free(person)) continue;
      const int end = end_if_started(task, person);
      if (end < 0 || !keeps_frozen_start(task, person, end)) continue;
      if (!keeps_appointment(task, person, end)) continue;
      const auto hands = static_cast<int>(lenders(task, person, end).size()) + 1;
      if (hands < task_at(task).hands) continue;
      able.emplace_back(end, person);
      soonest = std::min(soonest, end);
    }
    std::tuple best{99, 0, 0};
    for (const auto& [end, person] : able) {
      if (end > soonest + 120) continue;
      best = std::min(best, {std::popcount(input_.people[at(person)].skills), end, person});
    }
    if (std::get<0>(best) == 99) {
      if (task_at(task).hands > 1 && !frozen(task) && somebody_is_free()) appoint(task);
      return;
    }
    lent_[at(task)] = lenders(task, std::get<2>(best), std::get<1>(best));
    start_[at(task)] = now_;
    end_[at(task)] = std::max(std::get<1>(best), input_.now);
    doer_[at(task)] = std::get<2>(best);
  }

  const PlanInput& input_;
  const DrawSource& source_;
  const Draw& draw_;
  std::vector<int> sequence_;
  std::vector<int> start_;
  std::vector<int> end_;
  std::vector<int> doer_;
  std::vector<std::vector<int>> lent_;
  std::vector<int> kept_from_;  // by person: minute of an appointment, -1 none
  int now_ = 0;
};

}  // namespace rollwright::plan
