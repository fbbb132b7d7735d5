#pragma once

#include <optional>
#include <string>
#include <vector>

#include "build/bench_state.hpp"

/// Bikes that come back: what keeps one from being given back, and what a visit asks for.
namespace rollwright::build {

/// Everything that keeps the bike from being given back to be ridden, in sentences: operations that the
/// visit asks for or that were begun and are not done, faults, check lines that are open again or did
/// not pass (a note of mark N keeps nothing), and stops. Empty when it may be.
[[nodiscard]] std::vector<std::string> open_in_visit(const BenchState& state);

/// The km that the bike showed when it was last here; none when nobody wrote them down.
[[nodiscard]] std::optional<double> last_km(const BenchState& state);

/// Of the operations that somebody names, those on this bike's sheet that are not open anyhow, each once,
/// in the order of the sheet: what a visit has to ask for.
[[nodiscard]] std::vector<std::string> asked_for(const BenchState& state,
                                                 const std::vector<std::string>& named);

}  // namespace rollwright::build
