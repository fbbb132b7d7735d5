#include "plan/critical_chain.hpp"

#include <algorithm>

namespace rollwright::plan {
namespace {

void add(std::vector<Hold>& holds, HoldKind kind, std::uint64_t key, int minutes) {
  if (minutes <= 0) return;
  for (Hold& hold : holds) {
    if (hold.kind == kind && hold.key == key) {
      hold.minutes += minutes;
      return;
    }
  }
  holds.push_back({kind, key, minutes});
}

std::uint64_t wait_key(const Task& task, HoldKind kind) {
  if (kind == HoldKind::kHands) return static_cast<std::uint64_t>(task.hands);
  return kind == HoldKind::kStand ? static_cast<std::uint64_t>(task.area) : task.any_of;
}

}  // namespace

void critical_chain(const PlanInput& input, std::span<const Ran> ran,
                    std::span<const int> tasks_of_order, std::vector<Hold>& out) {
  out.clear();
  const auto task_at = [&](int index) -> const Task& {
    return input.tasks[static_cast<std::size_t>(index)];
  };
  const auto ran_at = [&](int index) -> const Ran& { return ran[static_cast<std::size_t>(index)]; };
  int at = -1;
  int until = input.now;  // what is later than this has been accounted for
  for (const int index : tasks_of_order) {
    const int over = ran_at(index).end + task_at(index).unattended;
    if (ran_at(index).start >= 0 && over > until) {
      until = over;
      at = index;
    }
  }
  // Minutes from `from` to `until`, nothing before now.
  const auto account = [&](HoldKind kind, std::uint64_t key, int from) {
    from = std::max(from, input.now);
    add(out, kind, key, until - from);
    until = std::min(until, from);
  };
  while (at >= 0 && until > input.now) {
    const Ran& here = ran_at(at);
    account(HoldKind::kUnattended, 0, here.end);
    account(HoldKind::kWork, 0, here.start);
    const bool by_bike = here.bike_before != Ran::kNothing;
    const int able = by_bike ? ran_at(here.bike_before).end : here.could_start;
    account(here.wait, wait_key(task_at(at), here.wait), able);
    if (by_bike) {
      at = here.bike_before;
    } else if (here.because >= 0) {
      at = here.because;
    } else {
      if (here.because == Ran::kFrozenStart) account(HoldKind::kFrozen, 0, input.now);
      if (here.because <= Ran::kFirstArrival) {
        account(HoldKind::kArrival, static_cast<std::uint64_t>(Ran::kFirstArrival - here.because),
                input.now);
      }
      at = -1;
    }
  }
}

}  // namespace rollwright::plan
