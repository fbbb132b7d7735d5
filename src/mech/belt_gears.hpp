#pragma once

#include <string>
#include <vector>

#include "mech/belt.hpp"
#include "mech/gearing.hpp"

namespace rollwright::mech {

/// What the maker of a hub gear permits at its sprocket; 0 where nothing is printed.
struct HubLimits {
  double least_primary = 0;  // front / rear teeth, 0 or 0.3 to 5
  Torque most_input = {};    // at the sprocket, 0 or 10 to 500 N·m
};

/// A belt drive asked for: frame, shelf, hub and rider.
struct BeltGearsAsked {
  BeltSearch belts;                      // its wanted_ratio is not used here
  double wear_stretch = 0.001;           // growth over the belt's life, 0 to 0.01 of its length
  std::vector<double> hub_ratios = {1};  // 1 to 20
  HubLimits hub;
  Torque crank_torque = 150 * newton_metre;  // most at the cranks, 1 to 500 N·m; motor included
  DrivenWheel wheel;
  Length lowest_wanted;   // development of the lowest gear, 0.5 to 15 m
  Length highest_wanted;  // of the highest, more than that, up to 20 m
};

/// One combination that fits.
struct BeltGears {
  BeltFit fit;
  Length worn_centre;      // the same belt, stretched: where the axle ends up
  Length worn_room;        // from there to the longest centre distance
  Length lowest, highest;  // development
  double off_percent = 0;  // mean distance of both ends from the wanted ones
  Torque input;            // at the hub's sprocket from the crank torque
};

/// Why a combination is not among them.
enum class BeltNo {
  kTooShort,    // the belt does not go around
  kTooClose,    // shortest centre distance not reached: the wheel would sit too far forward
  kTooFar,      // beyond the longest, or no room left to tighten when new
  kNoRoomWorn,  // fits when new, but the stretched belt runs out of adjustment
  kPrimary,     // under the hub's least primary ratio
  kTorque,      // over the hub's input torque
};
struct BeltRefused {
  int front = 0, rear = 0, belt_teeth = 0;
  BeltNo why = BeltNo::kTooShort;
  std::string sentence;  // with the numbers that do not agree
};
struct BeltGearsFound {
  std::vector<BeltGears> fits;       // nearest to the wanted range first, then most room when worn
  std::vector<BeltRefused> refused;  // all others, in the order of the lists
};

/// Every front, rear and belt over the frame's range of chainstays, with the hub's limits kept.
///
/// Method:    centre distance by belt_run, new and stretched; belts must leave the room to tighten
///            when new and close within the range when worn. Input torque is crank torque times
///            rear / front. Distance from the wanted range: mean of |ln| of both ends' ratios.
/// Source:    [belt-length], [gearing] in docs/sources.md; the stretch is the shop's own figure.
/// Accuracy:  the geometry is exact; pulleys and belts vary by some tenths of a millimetre.
/// Ignores:   whether the frame opens for a belt, chainline and stay clearance (fit rules).
/// Errors:    kOutOfRange, kContradiction as belts_that_fit, and when the wanted lowest gear is not
///            under the highest. The makers' tables of permitted combinations come first.
[[nodiscard]] Result<BeltGearsFound> belt_gears(const BeltGearsAsked& asked);

}  // namespace rollwright::mech
