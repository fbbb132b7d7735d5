#pragma once

#include <cstddef>
#include <vector>

#include "plan/workshop.hpp"

namespace rollwright::plan {

/// Per person and pause: most minutes at work, from now on, that their hours give to one task
/// without a pause that it forbids: a window, a day, or all of them.
class LongestGoes {
 public:
  explicit LongestGoes(const PlanInput& input);

  [[nodiscard]] int minutes(std::size_t person, Pause pause) const {
    return minutes_[person * kPauses + static_cast<std::size_t>(pause)];
  }

 private:
  static constexpr std::size_t kPauses = 3;
  std::vector<int> minutes_;
};

}  // namespace rollwright::plan
