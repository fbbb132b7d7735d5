#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "mech/climb.hpp"
#include "units/quantity.hpp"

namespace rollwright::mech {

/// One point of a recorded or planned way.
struct RoutePoint {
  double latitude_deg = 0;          // -90 to 90
  double longitude_deg = 0;         // -180 to under 180
  std::optional<Length> elevation;  // -500 to 9000 m
  int line = 0;                     // of the file, from 1
};

enum class RouteKind {
  kTrack,    // recorded
  kPlanned,  // a "route" of the file
};

/// One track or planned route. Between two segments the recorder was off: nobody knows the way
/// there, so nothing is added for it.
struct Route {
  RouteKind kind = RouteKind::kTrack;
  std::string name;                               // empty when the file gives none
  std::vector<std::vector<RoutePoint>> segments;  // none is empty
};

/// What a file may hold.
struct GpxLimits {
  std::size_t most_bytes = 16 * 1024 * 1024;
  std::size_t most_points = 500'000;
  Length most_step = 100 * km;  // between neighbours of one recorded segment
  int most_depth = 32;          // of elements in each other
};

/// Reads the tracks and planned routes of a GPX 1.0 or 1.1 file, in file order. Waypoints, times
/// and extensions are passed over; a file without a version is read the same way.
///
/// Source:    [gpx] in docs/sources.md.
/// Gaps:      what lies between two segments was not recorded: neither way nor height is added.
/// Errors:    kTooLarge over a limit; kBadInput, with file, line and field, for text that is not
///            UTF-8 or not well-formed XML, for a document type or entity declaration, for another
///            root or version, for a coordinate that is missing or no number, an elevation
///            that is no number, a point of a track outside its segments, and a file without any
///            point; kOutOfRange for a place off the globe, an elevation outside
///            its range and a recorded step over the limit.
[[nodiscard]] Result<std::vector<Route>> read_gpx(std::string_view text, const std::string& file,
                                                  const GpxLimits& limits = {});

struct RouteFigures {
  Length length;
  int points = 0;
  int points_without_elevation = 0;
  int gaps = 0;
  Length across_gaps;          // straight over the gaps; not in the length
  std::optional<Climb> climb;  // only when every point has an elevation
};

/// Length and climb of a route.
///
/// Method:    sum of the geodesics between neighbours on WGS 84; climb as mech/climb.hpp.
/// Source:    [geodesic], [climb] in docs/sources.md.
/// Accuracy:  the sum is exact to 0.001 mm a step. A recording itself cuts corners and jitters, by
///            about 1 % together. Ignores: height in the length (a slope of 10 % adds 0.5 %).
/// Errors:    kOutOfRange for a point off the globe; those of climb_of.
[[nodiscard]] Result<RouteFigures> figures_of(const Route& route, const ClimbMethod& method = {});

/// Way and height along one segment, for climb_of and the ride model. Empty when a point of it has
/// no elevation. Errors: kOutOfRange.
[[nodiscard]] Result<std::vector<ProfilePoint>> profile_of(const std::vector<RoutePoint>& segment);

}  // namespace rollwright::mech
