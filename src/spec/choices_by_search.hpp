#pragma once

#include <vector>

#include "spec/choices.hpp"
#include "spec/search.hpp"

namespace rollwright::spec {

/// Choices where a catalogue is too loose for a diagram: by search within a budget. Statuses that
/// it could not prove are kNotProven; prices, masses and days are never proven.
[[nodiscard]] Choices choices_by_search(const Compiled& compiled, std::vector<Fixed> fixed,
                                        Budget& budget);

}  // namespace rollwright::spec
