#include "plan/workshop_cases.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>

namespace rollwright::plan::cases {
namespace {

int below(Random& random, int count) {
  return static_cast<int>(random.below(static_cast<std::uint64_t>(count)));
}

void add_people(Random& random, PlanInput& input) {
  constexpr std::array<std::string_view, 4> kWeeks = {"Mon-Fri", "Tue-Sat", "Mon,Wed,Thu", "Thu"};
  const int count = 2 + below(random, 4);
  for (int index = 0; index < count; ++index) {
    const auto week = parse_week(kWeeks[random.below(kWeeks.size())],
                                 below(random, 2) == 0 ? "9:00-12:30,13:00-18:00" : "8:15-14:00");
    SkillSet skills = kMechanic;
    for (const SkillSet more : {kSenior, kWheels, kDrive}) {
      if (below(random, 2) == 0) skills |= more;
    }
    // The first two can do everything, so that a second person always exists.
    if (index < 2) skills = kMechanic | kSenior | kWheels | kDrive;
    const Day off = monday() + std::chrono::days(below(random, 20));
    input.people.push_back(
        {.id = fmt::format("person {}", index),
         .skills = skills,
         .hours = *working_windows(*week, {{off, off + std::chrono::days(below(random, 4))}},
                                   {monday(), input.days}),
         .productive = 0.5 + 0.5 * random.uniform()});
  }
}

void add_tasks(Random& random, PlanInput& input, int order, int count) {
  const int first = static_cast<int>(input.tasks.size());
  for (int index = 0; index < count; ++index) {
    constexpr std::array<SkillSet, 5> kNeeds = {kMechanic, kSenior, kWheels, kDrive,
                                                kSenior | kDrive};
    constexpr std::array<Pause, 4> kPauses = {Pause::kAnywhere, Pause::kAnywhere,
                                              Pause::kWithinDay, Pause::kNever};
    const int task = add_task(input, order, 5 + below(random, 60));
    Task& what = input.tasks.back();
    what.area = below(random, static_cast<int>(input.areas.size()));
    what.on_bike = below(random, 3) != 0;
    what.any_of = kNeeds[random.below(kNeeds.size())];
    what.pause = kPauses[random.below(kPauses.size())];
    if (what.pause == Pause::kAnywhere && below(random, 4) == 0) what.minutes *= 12;
    what.spread = {.least = what.minutes * 0.6, .median = what.minutes * 0.4, .sigma = 0.4};
    if (below(random, 6) == 0) what.unattended = below(random, 1500);
    for (int before = first; before < task; ++before) {
      if (below(random, 4) == 0) what.after.push_back(before);
    }
    if (below(random, 5) == 0) {
      input.arrivals.push_back(
          {.what = fmt::format("part {}", input.arrivals.size()),
           .working_days = {.least = 1, .median = 3.0 * random.uniform(), .sigma = 0.5}});
      if (below(random, 3) == 0) {
        input.arrivals.back().known = monday() + std::chrono::days(below(random, 10));
      }
      what.parts.push_back(static_cast<int>(input.arrivals.size()) - 1);
    }
  }
  if (below(random, 2) == 0) return;
  // An audit by somebody who did none of the last two things.
  const int audit = add_task(input, order, 15);
  Task& what = input.tasks.back();
  what.any_of = kSenior;
  for (int before = first; before < audit; ++before) what.after.push_back(before);
  for (int before = std::max(first, audit - 2); before < audit; ++before) {
    what.not_by_doer_of.push_back(before);
  }
}

}  // namespace

PlanInput random_workshop(Random& random, const Size& size) {
  PlanInput input = empty_shop(size.days);
  input.now = minute(0, 8) + below(random, 600);
  input.areas = {{"assembly", 1 + below(random, 3)},
                 {"wheel bench", 1},
                 {"electrics", 1 + below(random, 2)}};
  input.disturbance = {
      .sick = 0.05 * random.uniform(), .walk_in_least = 0.1, .walk_in_most = 0.3};
  add_people(random, input);
  for (int index = 0; index < size.orders; ++index) {
    const int order = add_order(input, fmt::format("order {}", index));
    Order& what = input.orders.back();
    if (below(random, 3) != 0) what.due = monday() + std::chrono::days(below(random, 20));
    what.weight = 1 + below(random, 3);
    what.released = below(random, 8) != 0;
    add_tasks(random, input, order, 1 + below(random, size.tasks_per_order));
  }
  return input;
}

int add_hands(Random& random, PlanInput& input) {
  int count = 0;
  for (Task& task : input.tasks) {
    if (below(random, 4) != 0 || !is_open(input, task)) continue;
    task.hands = 2 + (below(random, 4) == 0 ? 1 + below(random, 2) : 0);
    if (problems_of(input).empty()) {
      ++count;
    } else {
      task.hands = 1;
    }
  }
  return count;
}

PlanInput with_frozen_start(const PlanInput& input, const ShopPlan& plan, int frozen_days) {
  PlanInput next = input;
  for (const PlannedTask& placed : plan.tasks) {
    if (!placed.placed()) continue;
    next.tasks[static_cast<std::size_t>(placed.task)].previous = placed.where();
  }
  next.frozen_until = input.now + frozen_days * kMinutesPerDay;
  // What is frozen has its parts in hand, as it must.
  for (const Task& task : next.tasks) {
    if (!is_open(next, task) || !is_frozen(next, task)) continue;
    for (const int part : task.parts) {
      next.arrivals[static_cast<std::size_t>(part)].known = next.first_day - std::chrono::days(1);
    }
  }
  return next;
}

TEST(WorkshopCases, RandomWorkshopsCanAllBePlanned) {
  Random random(7);
  for (int round = 0; round < 300; ++round) {
    const PlanInput input = random_workshop(random, {});
    const Problems problems = problems_of(input);
    ASSERT_TRUE(problems.empty()) << "round " << round << ": " << problems.front().sentence;
  }
}

}  // namespace rollwright::plan::cases
