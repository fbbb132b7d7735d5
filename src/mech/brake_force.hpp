#pragma once

#include <string>
#include <vector>

#include "base/result.hpp"
#include "units/quantity.hpp"

namespace rollwright::mech {

/// The chain from a hand to the tyre, for one brake.
struct BrakeChain {
  double lever_ratio = 5;        // force at cable or piston over force at the finger, 1 to 20
  double efficiency = 0.85;      // of cable or hose, 0.2 to 1
  double calliper_ratio = 2;     // pad force, one side, over force that arrives, 0.5 to 20
  double friction = 0.4;         // pad on rotor or rim, 0.05 to 0.9; wet much less
  Length pad_radius;             // where the pads press, from the axle, 40 to 350 mm
  Length tyre_radius;            // 100 to 400 mm
};

/// Braking force at the tyre for a force of the hand (0 to 500 N).
///
/// Method:    product of the ratios, two pads, the radii. Source: [braking] in docs/sources.md.
/// Accuracy:  that of the friction, 20 % and worse when wet.
/// Ignores:   return springs, slack, fading, self-energising drums.
/// Errors:    kOutOfRange. The maker's released pairs of lever and calliper come first.
[[nodiscard]] Result<Force> brake_force(const BrakeChain& chain, Force hand);

/// Hand force for a braking force at the tyre (0 to 5000 N). Errors: kOutOfRange.
[[nodiscard]] Result<Force> hand_force(const BrakeChain& chain, Force at_tyre);

/// A reading of a brake machine carried to the hand force it was meant for: F (meant / applied).
/// Source: [brake-tests]. Errors: kOutOfRange (10 to 500 N by hand, 0 to 5000 N read).
[[nodiscard]] Result<Force> corrected_brake_reading(Force read, Force applied, Force meant);

/// One permitted mass, as printed.
struct MassLimit {
  std::string name;  // "front brake", "rear wheel", "frame"
  Mass most;         // of bike, rider and load, 20 to 500 kg
};
/// The strictest of them beside the mass asked for.
struct MassJudged {
  MassLimit strictest;
  Mass left;           // negative when too heavy
  bool holds = false;
};
/// Errors: kBadInput when there is no limit; kOutOfRange.
[[nodiscard]] Result<MassJudged> mass_within(const std::vector<MassLimit>& limits, Mass whole);

}  // namespace rollwright::mech
