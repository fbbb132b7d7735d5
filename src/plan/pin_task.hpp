#pragma once

#include "base/result.hpp"
#include "plan/improve_plan.hpp"
#include "plan/shop_plan.hpp"
#include "plan/workshop.hpp"

/// A task put to a person and a time by hand, and what that costs.
namespace rollwright::plan {

/// Who lends a hand at a task of several pairs of hands that is put there: those named in `where` if
/// they are there all through it and free of frozen work; else others who are, rather those whom
/// `plan` leaves free. Nobody when not so many are.
[[nodiscard]] std::uint64_t hands_for(const PlanInput& input, const ShopPlan& plan, int task,
                                      const Assignment& where, double arrival_confidence = 0.8);

/// The input with the task pinned. What comes before it and is still open is pinned with it: where
/// `plan` has it if it ends in time so, else as soon as it can. A pin holds its person and start;
/// who lends a hand is asked of hands_for.
///
/// Errors:  those of problems_of for a pin that clashes; kNotFound for an index; kRefused when the
///          task is done or not released, the start lies before now, not so many are there to lend a
///          hand, or what comes before cannot end in time. The sentence names both tasks.
[[nodiscard]] Result<PlanInput> pinned_by_hand(const PlanInput& input, const ShopPlan& plan,
                                               int task, const Assignment& where,
                                               double arrival_confidence = 0.8);

struct PinPrice {
  ImprovedPlan without;
  ImprovedPlan with;  // its moved tasks and cost are counted from the last plan, not from the pin
  double cost = 0;    // with less without; below zero when the pin helped the search along
};

/// Plans with and without the pin, with the same seed and placements each.
[[nodiscard]] Result<PinPrice> price_of_pin(const PlanInput& input, int task,
                                            const Assignment& where,
                                            const ImproveOptions& options = {});

}  // namespace rollwright::plan
