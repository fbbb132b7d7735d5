#pragma once

#include <span>
#include <vector>

#include "plan/workshop.hpp"

namespace rollwright::plan {

/// What is known afterwards about one task that ran, in a plan or in a draw.
struct Ran {
  static constexpr int kNow = -1;           // nothing but the present held it
  static constexpr int kFrozenStart = -2;   // its frozen start did
  static constexpr int kFirstArrival = -3;  // arrival a is kFirstArrival - a
  static constexpr int kNothing = -1;

  int start = -1;  // -1: it did not run
  int end = -1;
  int could_start = 0;         // minute at which the last thing it needed was there
  int because = kNow;          // that thing: a task (index), an arrival, now, the frozen start
  int bike_before = kNothing;  // task on the same bike that ended last before, after could_start
  HoldKind wait = HoldKind::kPeople;  // what it waited for from then to its start
};

/// What the time from now to the ready minute of an order is made of: walks back from its last task
/// through what each waited for. Minutes of the same hold are added up; together they are exactly
/// the time from now to ready. Last first. Empty when no task of the order ran.
/// `tasks_of_order`: indices of the open tasks of the order, all of which ran.
void critical_chain(const PlanInput& input, std::span<const Ran> ran,
                    std::span<const int> tasks_of_order, std::vector<Hold>& out);

}  // namespace rollwright::plan
