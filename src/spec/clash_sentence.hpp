#pragma once

#include <span>

#include "spec/compiled.hpp"
#include "spec/why_not.hpp"

namespace rollwright::spec {

/// The rule as a member of a clash: its sentence with the values of the decided slots and, for the
/// others, what is on offer there.
[[nodiscard]] ClashRule clash_rule(const Compiled& compiled, int constraint,
                                   std::span<const Fixed> fixed);

}  // namespace rollwright::spec
