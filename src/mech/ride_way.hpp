#pragma once

#include <vector>

#include "base/result.hpp"
#include "mech/climb.hpp"
#include "mech/route.hpp"
#include "units/quantity.hpp"

namespace rollwright::mech {

/// A short straight piece of a way.
struct RidePiece {
  Length way;                 // on the map, above 0
  Length rise;                // negative downhill
  Length elevation;           // of its middle
  double heading_deg = 0;     // clockwise from north
  double pressure_share = 1;  // of the sea's air pressure, standard day
  bool starts_anew = false;   // the recorder was off before it: the bike stands
};

/// A way cut into pieces for the ride model.
struct RideWay {
  std::vector<RidePiece> pieces;
  Length length;           // on the map, gaps left out
  int heights_filled = 0;  // points whose missing height was taken from their neighbours
  Length too_steep;        // way with a slope over 30 %: the recorded heights are wrong there, or
                           // it is no road
};

/// Steps and smoothing that suit the ride model: pieces of 20 m, heights over 100 m.
inline constexpr ClimbMethod kRideSmoothing{.spacing = 20 * metre};

/// The pieces of a route.
///
/// Method:    heights smoothed as mech/climb.hpp, without hysteresis, at even steps along each
///            segment; headings between the places at both ends of a piece. A point without a
///            height takes the straight line between its neighbours, over 500 m at most. Nothing
///            is ridden across a gap between segments, neither way nor height.
/// Source:    [geodesic], [climb], [air].
/// Accuracy:  as mech/climb.hpp.
/// Errors:    kBadInput, with the line, when heights are missing for longer or at an end; kNotFound
///            when no segment has any length; those of smooth_profile.
[[nodiscard]] Result<RideWay> ride_way(const Route& route,
                                       const ClimbMethod& method = kRideSmoothing);

/// The same way and then the way back, for a route that does not end at home. The rider turns
/// around standing.
[[nodiscard]] RideWay there_and_back(const RideWay& way);

}  // namespace rollwright::mech
