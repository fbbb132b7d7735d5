#pragma once

#include <array>
#include <cstddef>
#include <vector>

#include "plan/workshop.hpp"

namespace rollwright::plan {

/// Per person: most minutes at work, from now on, that their hours give to one task without a pause
/// that it forbids: a window, a day, or all of them; of work of several pairs of hands, a span in
/// which as many others who may lend a hand are there from its start to its end.
class LongestGoes {
 public:
  explicit LongestGoes(const PlanInput& input);

  [[nodiscard]] int minutes(std::size_t person, const Task& task) const {
    return task.hands > 1
               ? together_[static_cast<std::size_t>(task.hands)][person]
               : minutes_[person * kPauses + static_cast<std::size_t>(task.pause)];
  }

 private:
  static constexpr std::size_t kPauses = 3;
  std::vector<int> minutes_;
  std::array<std::vector<int>, kMostHands + 1> together_;  // by pairs of hands that a task takes
};

}  // namespace rollwright::plan
