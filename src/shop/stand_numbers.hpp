#pragma once

#include <vector>

#include "plan/shop_plan.hpp"

namespace rollwright::shop {

/// A stand that work is on already, or is to be on.
struct StandWish {
  int stand = 0;       // from 1; 0: none
  bool fixed = false;  // frozen or put there by hand: given before all others
};

/// Numbers the stands of each area, from 1, so that nothing shares one: fixed wishes first, then in
/// the order of start, each on the stand it wishes if that is free for all its time, else on the
/// first that is. The planner has seen to it that no area holds more than its stands; work that
/// fits on no single stand for all its time has 0 and changes stands on the way.
[[nodiscard]] std::vector<int> stand_numbers(const plan::PlanInput& input,
                                             const plan::ShopPlan& plan,
                                             const std::vector<StandWish>& wishes);

}  // namespace rollwright::shop
