#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "plan/shop_plan.hpp"
#include "shop/agreed_places.hpp"

/// The workshop with the agreed plan in it: what is frozen, what was put somewhere by hand, and
/// what of the plan can still be done as agreed.
namespace rollwright::shop {

enum class HeldBy {
  kNothing,
  kFrozen,     // it has begun, or starts within the frozen part
  kPin,        // put there by hand
  kBeforePin,  // it comes before work that was put somewhere by hand
};

struct AgreedInput {
  std::int64_t number = 0;       // of the agreed plan; 0: none
  WorkshopInput workshop;        // its input carries the agreed places as `previous`
  plan::PlanInput uncertain;     // before arrivals were put on a day; for odds
  plan::PlanInput input;         // the workshop's, with all that does not move pinned
  std::vector<HeldBy> held;      // per task
  std::vector<NotKept> thawed;   // frozen, but it clashes with what is so: free to move
  std::vector<NotKept> broken;   // pins that cannot be kept
  std::string doers_forgotten;   // why nobody is taken to have done what is done; empty usually
  plan::ShopPlan kept;           // what can be done as agreed; the rest has no place in it
  int today = 0;                 // minute of 00:00 of today: the first day may be an earlier one
  int frozen_until = 0;          // minute

  [[nodiscard]] bool was_planned(int task) const {
    return workshop.input.tasks[static_cast<std::size_t>(task)].previous.has_value();
  }
  /// Planned, but it cannot be done then, or not by that person.
  [[nodiscard]] bool cannot_stay(int task) const;
  /// To be done, and not in the agreed plan.
  [[nodiscard]] bool is_new(int task) const;
  /// Nothing is out of date: the agreed plan is the plan.
  [[nodiscard]] bool holds() const;
};

[[nodiscard]] inline const trade::PlannedWork* agreed_work(const AgreedInput& agreed,
                                                           const State& state, int task) {
  return agreed_work(agreed.workshop, state, task);
}

/// A pin that is to be left out: of the operation that is being moved or let go.
struct WithoutPin {
  std::string order;
  std::string operation;
};

/// Frozen is what has begun, and what starts today or within the frozen days, if it can still be
/// done so: its person is there, its parts and what comes before are in time. What cannot, or
/// clashes with what was done meanwhile, is free to be planned anew. Pins are kept after that, the
/// earliest first; a pin holds what comes before.
/// Arrivals stand on the day they are reckoned with.
/// Errors: those of workshop_input and of the workshop's problems.
[[nodiscard]] Result<AgreedInput> agreed_input(const trade::Trade& trade, const State& state,
                                               const LocalTime& now,
                                               const std::optional<WithoutPin>& without = {});

}  // namespace rollwright::shop
