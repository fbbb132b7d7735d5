#pragma once

#include <string>
#include <vector>

#include "plan/shop_plan.hpp"
#include "plan/workshop.hpp"

namespace rollwright::plan {

/// Every way in which a plan breaks a rule of its input, one sentence each; empty when it holds.
///
/// Independent of the planner: it looks only at segments, minute by minute where need be, and
/// shares no code with make_plan. It checks that nobody does two things at once, works outside
/// their hours or without the skill; that no area holds more than its stands and no bike is in two
/// places; that as many as it takes lend a hand, there from start to end; order of tasks and unattended time; parts in hand at `arrival_confidence`; pauses; the
/// second person; the minutes worked; that frozen tasks did not move; that nothing new starts
/// before now; and that the ready minutes, days late and score reported follow from the segments.
[[nodiscard]] std::vector<std::string> check_shop_plan(const PlanInput& input, const ShopPlan& plan,
                                                       double arrival_confidence = 0.8);

}  // namespace rollwright::plan
