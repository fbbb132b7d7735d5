#pragma once

#include "build/bench_rules.hpp"

/// What may be written of a bike's visits.
namespace rollwright::build {

/// Work on a bike in care, its parts and its checks belong to a visit; notes, photographs and signatures
/// do not. Errors: kRefused.
[[nodiscard]] Result<void> belongs_to_visit(const DeedAsked& asked);

/// A bike comes back, something is asked for or left out, it is given back; its rider is told that it
/// should come. Errors: those of judge; kConflict for what is not said while a visit is open.
[[nodiscard]] Result<void> may_visit(const DeedAsked& asked);

}  // namespace rollwright::build
