#include "plan/promise_dispatch.hpp"

#include <algorithm>
#include <bit>
#include <cmath>
#include <tuple>

#include <gtest/gtest.h>

#include "base/index.hpp"
#include "plan/shop_plan.hpp"
#include "plan/workshop_cases.hpp"

namespace rollwright::plan {
namespace {

using namespace cases;

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
        doer_(input.tasks.size(), -1) {}

  void run() {
    for (now_ = 0; now_ < input_.days * kMinutesPerDay; ++now_) {
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

  bool is_free(int person) const {
    for (const int task : sequence_) {
      if (runs(task) && doer_[at(task)] == person) return false;
    }
    if (source_.rate(draw_, person, now_ / kMinutesPerDay) == 0) return false;
    for (const Window& hours : input_.people[at(person)].hours) {
      if (hours.from <= now_ && now_ < hours.to) return true;
    }
    return false;
  }

  int end_if_started(int task, int person) const {
    const Pause pause = frozen(task) ? Pause::kAnywhere : task_at(task).pause;
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
      const int doer = task_at(other).done ? task_at(other).done_by : doer_[at(other)];
      if (doer == person) return false;
    }
    for (const int witness : sequence_) {
      const auto& barred = task_at(witness).not_by_doer_of;
      if (std::ranges::find(barred, index) == barred.end()) continue;
      if (!leaves_enough(index, person, witness)) return false;
    }
    return true;
  }

  bool leaves_enough(int index, int person, int witness) const {
    std::vector<int> left;
    for (int p = 0; p < static_cast<int>(input_.people.size()); ++p) {
      bool able = (input_.people[at(p)].skills & task_at(witness).any_of) != 0;
      if (frozen(witness)) able = p == task_at(witness).previous->person;
      for (const int other : task_at(witness).not_by_doer_of) {
        if ((task_at(other).done ? task_at(other).done_by : doer_[at(other)]) == p) able = false;
      }
      if (able) left.push_back(p);
    }
    int needed = 1;
    for (const int other : task_at(witness).not_by_doer_of) {
      const bool second = !task_at(other).not_by_doer_of.empty() && !task_at(other).done;
      if (second && other != index && start_[at(other)] < 0) ++needed;
    }
    const bool takes_one = std::ranges::find(left, person) != left.end();
    return !takes_one || static_cast<int>(left.size()) > needed;
  }

  bool keeps_frozen_start(int index, int person, int end) const {
    if (frozen(index)) return true;
    for (const int other : sequence_) {
      if (!frozen(other) || task_at(other).previous->person != person) continue;
      const int start = task_at(other).previous->start;
      if (now_ < start && start < end) return false;
    }
    return true;
  }

  void hand_out(int task) {
    std::vector<std::pair<int, int>> able;  // end, person
    int soonest = kNever;
    for (int person = 0; person < static_cast<int>(input_.people.size()); ++person) {
      if (!may(task, person) || !is_free(person)) continue;
      const int end = end_if_started(task, person);
      if (end < 0 || !keeps_frozen_start(task, person, end)) continue;
      able.emplace_back(end, person);
      soonest = std::min(soonest, end);
    }
    std::tuple best{99, 0, 0};
    for (const auto& [end, person] : able) {
      if (end > soonest + 120) continue;
      best = std::min(best, {std::popcount(input_.people[at(person)].skills), end, person});
    }
    if (std::get<0>(best) == 99) return;
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
  int now_ = 0;
};

void expect_same(const PlanInput& input, int draws) {
  const DrawSource source(input, 5);
  Dispatcher dispatcher(input);
  Draw draw;
  std::vector<Ran> ran;
  for (int number = 0; number < draws; ++number) {
    source.sample(number, draw);
    dispatcher.run(source, draw, {}, ran);
    PlainShop plain(input, source, draw);
    plain.run();
    for (std::size_t task = 0; task < input.tasks.size(); ++task) {
      ASSERT_EQ(ran[task].start, plain.start(static_cast<int>(task)))
          << "draw " << number << ", " << input.tasks[task].id;
      ASSERT_EQ(ran[task].end, plain.end(static_cast<int>(task)))
          << "draw " << number << ", " << input.tasks[task].id;
    }
  }
}

TEST(PromiseDispatch, DoesWhatAPlainMinuteByMinuteShopDoes) {
  Random random(21);
  for (int round = 0; round < 24; ++round) {
    SCOPED_TRACE(round);
    const PlanInput input =
        random_workshop(random, {.orders = 4, .tasks_per_order = 6, .days = 18});
    expect_same(input, 3);
    if (HasFatalFailure()) return;
  }
}

TEST(PromiseDispatch, DoesSoWithFrozenWorkToo) {
  Random random(22);
  int frozen = 0;
  for (int round = 0; round < 16; ++round) {
    SCOPED_TRACE(round);
    const PlanInput input =
        random_workshop(random, {.orders = 4, .tasks_per_order = 6, .days = 18});
    const auto plan = make_plan(input);
    ASSERT_TRUE(plan);
    const PlanInput next = with_frozen_start(input, *plan, 3);
    for (const Task& task : next.tasks) {
      if (is_open(next, task) && is_frozen(next, task)) ++frozen;
    }
    expect_same(next, 3);
    if (HasFatalFailure()) return;
  }
  EXPECT_GT(frozen, 100);
}

TEST(PromiseDispatch, WorkThatRunsNowIsNotOverYet) {
  PlanInput input = empty_shop();
  add_person(input, "Ada", kMechanic);
  input.now = minute(0, 14);
  const int task = add_task(input, add_order(input, "118"), 60);
  input.tasks.back().previous = {0, minute(0, 9)};
  input.tasks.back().pinned = true;
  const DrawSource source(input, 1);
  Draw draw;
  source.sample(0, draw);
  std::vector<Ran> ran;
  Dispatcher(input).run(source, draw, {}, ran);
  EXPECT_EQ(ran[at(task)].start, minute(0, 9));
  EXPECT_EQ(ran[at(task)].end, minute(0, 14));
}

TEST(PromiseDispatch, AnItemKeepsItsLuckWhenOthersChange) {
  Random random(23);
  const PlanInput input = random_workshop(random, {});
  PlanInput other = input;
  other.tasks.insert(other.tasks.begin(), other.tasks.front());
  other.tasks.front().id = "something new";
  other.arrivals.push_back({.what = "one more", .working_days = {.median = 2, .sigma = 1}});
  std::swap(other.people.front(), other.people.back());
  Draw a;
  Draw b;
  const DrawSource before(input, 9);
  const DrawSource after(other, 9);
  before.sample(17, a);
  after.sample(17, b);
  for (std::size_t task = 0; task < input.tasks.size(); ++task) {
    EXPECT_EQ(a.work[task], b.work[task + 1]);
  }
  for (std::size_t arrival = 0; arrival < input.arrivals.size(); ++arrival) {
    EXPECT_EQ(a.in_hand[arrival], b.in_hand[arrival]);
  }
  const int last = static_cast<int>(input.people.size()) - 1;
  EXPECT_EQ(before.rate(a, 0, 12), after.rate(b, last, 12));
}

TEST(PromiseDispatch, PeopleAreSickAsOftenAsStated) {
  PlanInput input = empty_shop(200);
  add_person(input, "Ada", kMechanic);
  input.disturbance = {.sick = 0.1};
  const DrawSource source(input, 3);
  Draw draw;
  int sick = 0;
  for (int number = 0; number < 200; ++number) {
    source.sample(number, draw);
    EXPECT_GT(source.rate(draw, 0, 0), 0);  // today is known
    for (int day = 1; day <= 100; ++day) sick += source.rate(draw, 0, day) == 0 ? 1 : 0;
  }
  // Binomial, n = 20 000, p = 0.1: standard deviation 42.4; 4 of them.
  EXPECT_NEAR(sick, 2000, 170);
}

TEST(PromiseDispatch, PeopleAreIllForSpellsOfTheLengthStated) {
  PlanInput input = empty_shop(400);
  add_person(input, "Ada", kMechanic);
  input.disturbance = {.sick = 0.1, .sick_days = 5};
  const DrawSource source(input, 3);
  Draw draw;
  int sick = 0;
  int spells = 0;
  for (int number = 0; number < 400; ++number) {
    source.sample(number, draw);
    bool before = false;
    for (int day = 1; day < 400; ++day) {
      const bool is_out = source.rate(draw, 0, day) == 0;
      sick += is_out ? 1 : 0;
      spells += is_out && !before ? 1 : 0;
      before = is_out;
    }
  }
  // A chain of two states: share h / (h + 1 / 5), mean length 5. 159 600 days with about 3 200
  // spells: 2 in 100 of either is more than one standard error, 6 in 100 more than three.
  EXPECT_NEAR(sick / 159600.0, 0.1, 0.006);
  EXPECT_NEAR(static_cast<double>(sick) / spells, 5, 0.3);
}

TEST(PromiseDispatch, WhoIsIllTodayIsOftenIllTomorrow) {
  PlanInput input = empty_shop(60);
  add_person(input, "Ada", kMechanic);
  input.people.back().out = true;
  input.disturbance = {.sick = 0.03, .sick_days = 5};
  const DrawSource source(input, 3);
  Draw draw;
  int out = 0;
  for (int number = 0; number < 4000; ++number) {
    source.sample(number, draw);
    out += source.rate(draw, 0, 1) == 0 ? 1 : 0;
  }
  EXPECT_NEAR(out, 3200, 100);  // 4 in 5; standard deviation 25
}

TEST(PromiseDispatch, LeaveNotToldYetBeginsWhenItMayBeUntold) {
  PlanInput input = empty_shop(200);
  add_person(input, "Ada", kMechanic);
  input.people.back().untold_leave = 0.08;
  input.disturbance = {.leave_from = 56, .leave_days = 10};
  const DrawSource source(input, 3);
  Draw draw;
  int late = 0;
  for (int number = 0; number < 400; ++number) {
    source.sample(number, draw);
    for (int day = 0; day < 56; ++day) ASSERT_GT(source.rate(draw, 0, day), 0);
    for (int day = 120; day < 200; ++day) late += source.rate(draw, 0, day) == 0 ? 1 : 0;
  }
  EXPECT_NEAR(late / 32000.0, 0.08, 0.015);
}

TEST(PromiseDispatch, AnOrderComesAsOftenAsItsChance) {
  PlanInput input = empty_shop();
  add_person(input, "Ada", kMechanic);
  const int sure = add_task(input, add_order(input, "118"), 60);
  const int maybe = add_task(input, add_order(input, "to come 1"), 60);
  input.orders.back().chance = 0.3;
  const DrawSource source(input, 1);
  Dispatcher dispatcher(input);
  Draw draw;
  std::vector<Ran> ran;
  int came = 0;
  const std::vector<int> wanted = {0};
  for (int number = 0; number < 4000; ++number) {
    source.sample(number, draw);
    came += draw.comes[1];
    dispatcher.run(source, draw, wanted, ran);
    EXPECT_GE(ran[at(sure)].start, 0);
    if (draw.comes[1] == 0) {
      EXPECT_EQ(ran[at(maybe)].start, -1);
    }
  }
  EXPECT_NEAR(came, 1200, 120);  // standard deviation 29
}

}  // namespace
}  // namespace rollwright::plan
