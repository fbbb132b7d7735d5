#pragma once

#include <optional>
#include <string>

#include "build/facts.hpp"
#include "mech/tension_ratio.hpp"

// Wheels as their hub, rim and spokes say, for the bench sheet and for the bench aids alike. What is
// not known becomes a question of the reader. `end` is "front" or "rear".
namespace rollwright::build {

/// A hand-built wheel keeps every spoke within 10 % of its side's mean ([tension-spread]).
inline constexpr double kTensionSpread = 0.10;

struct WheelAsked {
  mech::WheelGeometry geometry;
  std::string note;  // how an offset rim was turned; empty for a rim without offset
};
/// Where the nipples stand, towards the left. A rim's offset is stated for the rear wheel; a front
/// rim is laced so that its nipples stand away from the flange that is nearer to the middle.
[[nodiscard]] std::optional<Length> nipples_towards_left(FactReader& facts, const std::string& end);
/// A wheel bought whole states its parts, not how it was laced: that is asked.
[[nodiscard]] std::optional<double> asked_crosses(FactReader& facts, const std::string& end);
/// Nothing for straight-pull spokes and for counts of hub and rim that do not agree.
[[nodiscard]] std::optional<WheelAsked> asked_wheel(FactReader& facts, const std::string& end);

struct SpokesAsked {
  mech::WheelSpokes spokes;
  WheelAsked wheel;
};
[[nodiscard]] std::optional<SpokesAsked> asked_spokes(FactReader& facts, const std::string& end);

/// Middle of the usual range for the tighter side, from the trade's own reading.
[[nodiscard]] std::optional<Force> usual_tight_tension(const FactReader& facts,
                                                       const std::string& end);
/// Tensions to build to: inside the rim's printed limit, and not above the usual.
[[nodiscard]] std::optional<mech::TensionTargets> asked_tensions(FactReader& facts,
                                                                 const std::string& end);
/// By which rule: "the two sides balance over this hub; …".
[[nodiscard]] std::string tension_words(const FactReader& facts, const std::string& end);

}  // namespace rollwright::build
