#pragma once

#include <string>
#include <vector>

#include "base/result.hpp"
#include "units/quantity.hpp"

namespace rollwright::mech {

/// Something heavy on the bike.
struct LoadPiece {
  std::string name;          // "rider", "front basket"
  Mass mass;                 // 0 to 400 kg
  Length behind_front_axle;  // level, negative in front of it, -1500 to 4000 mm
};

struct AxleLoads {
  Mass front;  // can be negative: the bike rears up
  Mass rear;
  Mass total;
};

/// How much of the whole stands on each wheel, at rest on level ground.
///
/// Method:    balance of moments about the front axle.
/// Source:    [axle-load] in docs/sources.md.
/// Accuracy:  exact for the numbers given; a rider leans 50 mm forwards or back. A scale under each
///            wheel is better.
/// Ignores:   slope, braking, trailers (enter a nose load as a piece).
/// Errors:    kOutOfRange (wheelbase 700 to 2600 mm; the piece is named).
[[nodiscard]] Result<AxleLoads> axle_loads(const std::vector<LoadPiece>& pieces, Length wheelbase);

}  // namespace rollwright::mech
