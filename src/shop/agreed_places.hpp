#pragma once

#include <optional>
#include <string>
#include <vector>

#include "shop/workshop_input.hpp"
#include "trade/agreed_plan.hpp"

/// Where the agreed plan has the work of a workshop, and what of that is frozen.
namespace rollwright::shop {

/// Parts that are not confirmed are reckoned to be there on the day that holds in 8 of 10 cases.
inline constexpr double kReckonedArrival = 0.8;

/// What the agreed plan says of a task; nothing when it does not know it.
[[nodiscard]] const trade::PlannedWork* agreed_work(const WorkshopInput& workshop,
                                                    const State& state, int task);

/// Gives each task the place that the agreed plan has for it as its `previous`; none when that lies
/// before the first day or beyond the horizon, or its person no longer works here. Work that is done
/// counts as done by whom the plan had for it, and who was to lend a hand as having lent one: the
/// book does not say who did it.
void put_agreed_places(WorkshopInput& workshop, const State& state);

/// Open tasks with a place in the last plan, by its start.
[[nodiscard]] std::vector<int> by_start(const plan::PlanInput& input);

/// Each arrival on the day that it is reckoned with.
[[nodiscard]] plan::PlanInput reckoned(plan::PlanInput input);

/// 00:00 after the last of so many days after today on which somebody works. `today` is the minute
/// of its 00:00.
[[nodiscard]] int end_of_frozen(const plan::PlanInput& input, int today, int frozen_days);

/// Tasks that start before `until` in the agreed plan and can be done so: the person is there and
/// gets them done by the day agreed, parts and what comes before are in time. What should be over by
/// now is not among them. `input` is that of the workshop with arrivals on their days.
[[nodiscard]] std::vector<int> frozen_tasks(const WorkshopInput& workshop, const State& state,
                                            const plan::PlanInput& input, int until);

/// A task that is not where it was to be kept, and why.
struct NotKept {
  int task = 0;
  std::string sentence;
};

/// Pins these tasks to their places, one after the other; those that clash with what is so already
/// (work done otherwise than planned, say) are left free, and given back. None is pinned when the
/// workshop has problems without them.
std::vector<NotKept> pin_what_can(plan::PlanInput& input, const std::vector<int>& tasks);

/// Nobody is taken to have done what is done, when whom the plan had for it leaves no second person
/// for a check. The sentence says so; empty when all is well. Other problems stay as they are.
[[nodiscard]] std::string forget_doers_that_clash(plan::PlanInput& input);

}  // namespace rollwright::shop
