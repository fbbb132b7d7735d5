#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "plan/shop_plan.hpp"
#include "shop/workshop_input.hpp"

/// The workshop with the agreed plan in it: what is frozen, what was put somewhere by hand, and
/// what of the plan can still be done as agreed.
namespace rollwright::shop {

/// Parts that are not confirmed are reckoned to be there on the day that holds in 8 of 10 cases.
inline constexpr double kReckonedArrival = 0.8;

enum class HeldBy {
  kNothing,
  kFrozen,     // it has begun, or starts within the frozen part
  kPin,        // put there by hand
  kBeforePin,  // it comes before work that was put somewhere by hand
};

/// A pin that cannot be kept, and why.
struct BrokenPin {
  int task = 0;
  std::string sentence;
};

struct AgreedInput {
  std::int64_t number = 0;       // of the agreed plan; 0: none
  WorkshopInput workshop;        // its input carries the agreed places as `previous`
  plan::PlanInput uncertain;     // as it was before arrivals were put on a day; for odds
  plan::PlanInput input;         // the workshop's, with all that does not move pinned: what is planned on
  std::vector<HeldBy> held;      // per task
  std::vector<BrokenPin> broken;
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

/// What the plan says of an operation; nothing when it does not know it.
[[nodiscard]] const trade::PlannedWork* planned_work(const State& state,
                                                     const trade::OrderId& order,
                                                     const std::string& operation);

/// Each arrival on the day that it is reckoned with.
[[nodiscard]] plan::PlanInput reckoned(plan::PlanInput input);

/// Open tasks with a place in the last plan, by its start.
[[nodiscard]] std::vector<int> by_start(const plan::PlanInput& input);

/// A pin that is to be left out: of the operation that is being moved or let go.
struct WithoutPin {
  std::string order;
  std::string operation;
};

/// Frozen is what has begun, and what starts today or within the frozen days, if it can still be
/// done so: its person is there, its parts and what comes before are in time. What cannot is free
/// to be planned anew. Pins are kept after that, the earliest first; a pin holds what comes before.
/// Arrivals stand on the day they are reckoned with.
/// Errors: those of workshop_input and of the workshop's problems.
[[nodiscard]] Result<AgreedInput> agreed_input(const trade::Trade& trade, const State& state,
                                               const LocalTime& now,
                                               const std::optional<WithoutPin>& without = {});

/// Puts what does not move into an input whose arrivals are uncertain, for odds. Frozen work whose
/// parts are in the house keeps its person and start. Work put somewhere by hand keeps its person
/// and is not begun before its day (from noon on, when it starts after noon). The simulation plays
/// the rest by its own turn.
void hold_for_odds(WorkshopInput& workshop, const State& state, const LocalTime& now);

/// The same for places that are not agreed yet.
struct HeldPlace {
  int task = 0;
  plan::Assignment where;
  bool by_hand = false;
};
void hold_for_odds(plan::PlanInput& input, const std::vector<HeldPlace>& places);

/// What of `agreed` does not move, with an operation moved by hand in its place.
[[nodiscard]] std::vector<HeldPlace> places_of(const AgreedInput& agreed);

}  // namespace rollwright::shop
