#pragma once

#include <string>

#include "build/values.hpp"
#include "mech/rider_fit.hpp"

// The calculations behind the table in values.cpp, by the part of the bike they look at. `end` is
// "front" or "rear", `side` "left" or "right"; slots are called "<end>_rim" and so on.

namespace rollwright::build {

using Computed = std::optional<ComputedValue>;

// wheel_values.cpp
[[nodiscard]] Computed spoke_length(FactReader& facts, const std::string& end,
                                    const std::string& side);
[[nodiscard]] Computed spoke_tension(FactReader& facts, const std::string& end,
                                     const std::string& side);
[[nodiscard]] Computed tight_tension(FactReader& facts, const std::string& end);
[[nodiscard]] Computed tension_share(FactReader& facts, const std::string& end);

// drive_values.cpp
[[nodiscard]] Computed belt_frequency(FactReader& facts);
[[nodiscard]] Computed chain_links(FactReader& facts);
[[nodiscard]] Computed assist_limit(FactReader& facts);

// ride_values.cpp
[[nodiscard]] Computed tyre_pressure(FactReader& facts, const std::string& end);
[[nodiscard]] Computed wheel_circumference(FactReader& facts);
[[nodiscard]] Computed bike_mass(FactReader& facts);
[[nodiscard]] Computed rated_load(FactReader& facts);

// fit_values.cpp
[[nodiscard]] Computed steerer_cut(FactReader& facts);
[[nodiscard]] Computed saddle_height(FactReader& facts);
[[nodiscard]] Computed saddle_over_pedal(FactReader& facts);
/// From the rider's inseam and the crank; a question when they are not known or cannot be.
[[nodiscard]] std::optional<mech::SaddleHeight> asked_saddle(FactReader& facts);

}  // namespace rollwright::build
