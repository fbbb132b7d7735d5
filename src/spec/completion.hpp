#pragma once

#include <span>
#include <vector>

#include "spec/complete.hpp"
#include "spec/situation.hpp"

namespace rollwright::spec {

/// What a bike, given by its candidate in every slot, comes to.
[[nodiscard]] Completion completion_of(const Situation& situation, std::span<const int> candidates);

}  // namespace rollwright::spec
