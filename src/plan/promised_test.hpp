#pragma once

#include <gtest/gtest.h>

#include "plan/promise.hpp"

namespace rollwright::plan {

/// A promise of input that has no problems.
inline Promise promised(const PlanInput& input, int order, const PromiseOptions& options = {}) {
  auto found = promise(input, order, options);
  EXPECT_TRUE(found) << found.error().sentence;
  return found ? *found : Promise{};
}

}  // namespace rollwright::plan
