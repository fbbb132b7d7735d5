#include "mech/ride_way.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

#include "mech/air.hpp"
#include "mech/geodesic.hpp"

namespace rollwright::mech {
namespace {

constexpr Length kWidestFilled = 500 * metre;
constexpr double kSteepestRoad = 0.30;

/// Way along a segment at each of its points.
Result<std::vector<Length>> ways_along(const std::vector<RoutePoint>& segment) {
  std::vector<Length> along(1);
  for (std::size_t i = 1; i < segment.size(); ++i) {
    const auto step = geodesic({segment[i - 1].latitude_deg, segment[i - 1].longitude_deg},
                               {segment[i].latitude_deg, segment[i].longitude_deg});
    if (!step) return std::unexpected(step.error());
    along.push_back(along.back() + step->length);
  }
  return along;
}

std::unexpected<Error> no_height(const RoutePoint& point, const char* why) {
  return refuse(Code::kBadInput,
                fmt::format("A ride needs the height of the way: {}. Record it with heights, or "
                            "let a height map add them.",
                            why),
                {.line = point.line, .field = "ele"});
}

/// Heights with short holes filled; counts what it filled.
Result<std::vector<ProfilePoint>> filled_profile(const std::vector<RoutePoint>& segment,
                                                 const std::vector<Length>& along, int& filled) {
  std::vector<ProfilePoint> profile;
  std::size_t known = 0;  // one past the last point with a height
  for (std::size_t i = 0; i < segment.size(); ++i) {
    if (!segment[i].elevation) continue;
    if (known == 0 && i > 0) return no_height(segment[0], "its first point has none");
    if (i > known) {
      if (along[i] - along[known - 1] > kWidestFilled) {
        return no_height(segment[known], "it is missing for more than 500 m");
      }
      filled += static_cast<int>(i - known);
    }
    profile.push_back({along[i], *segment[i].elevation});
    known = i + 1;
  }
  if (known == 0) return no_height(segment[0], "no point has any");
  if (known < segment.size()) return no_height(segment[known], "its last point has none");
  return profile;
}

/// Places along a segment, asked for in rising order.
class WalkAlong {
 public:
  WalkAlong(const std::vector<RoutePoint>& segment, const std::vector<Length>& along)
      : segment_(segment), along_(along) {}

  GroundPlace at(Length way) {
    while (next_ + 1 < along_.size() && along_[next_] < way) ++next_;
    const RoutePoint& a = segment_[next_ - 1];
    const RoutePoint& b = segment_[next_];
    const Length width = along_[next_] - along_[next_ - 1];
    const double share = width > Length{} ? (way - along_[next_ - 1]) / width : 0;
    return {std::lerp(a.latitude_deg, b.latitude_deg, share),
            a.longitude_deg + share * std::remainder(b.longitude_deg - a.longitude_deg, 360)};
  }

 private:
  const std::vector<RoutePoint>& segment_;
  const std::vector<Length>& along_;
  std::size_t next_ = 1;
};

/// Over a few metres the earth is flat.
double heading_between(const GroundPlace& from, const GroundPlace& to) {
  const double narrow =
      std::cos((from.latitude_deg + to.latitude_deg) / 2 * std::numbers::pi / 180);
  const double east = std::remainder(to.longitude_deg - from.longitude_deg, 360) * narrow;
  return std::atan2(east, to.latitude_deg - from.latitude_deg) * 180 / std::numbers::pi;
}

double pressure_share(Length elevation) {
  const auto air = standard_air(elevation);
  ROLLWRIGHT_PROMISE(air);  // climb_of's range lies within
  return air->pressure / standard_air({})->pressure;
}

std::optional<Error> add_segment(const std::vector<RoutePoint>& segment, const ClimbMethod& method,
                                 RideWay& way) {
  const auto along = ways_along(segment);
  if (!along) return along.error();
  if (!(along->back() > Length{})) return std::nullopt;
  const auto profile = filled_profile(segment, *along, way.heights_filled);
  if (!profile) return profile.error();
  const auto smooth = smooth_profile(*profile, method);
  if (!smooth) return smooth.error();
  WalkAlong walk(segment, *along);
  GroundPlace from = walk.at({});
  for (std::size_t i = 1; i < smooth->size(); ++i) {
    const ProfilePoint& a = (*smooth)[i - 1];
    const ProfilePoint& b = (*smooth)[i];
    const GroundPlace to = walk.at(b.along);
    const Length middle = (a.elevation + b.elevation) / 2;
    way.pieces.push_back({.way = b.along - a.along,
                          .rise = b.elevation - a.elevation,
                          .elevation = middle,
                          .heading_deg = heading_between(from, to),
                          .pressure_share = pressure_share(middle),
                          .starts_anew = i == 1});
    if (std::fabs(way.pieces.back().rise / way.pieces.back().way) > kSteepestRoad) {
      way.too_steep += way.pieces.back().way;
    }
    from = to;
  }
  way.length += along->back();
  return std::nullopt;
}

}  // namespace

Result<RideWay> ride_way(const Route& route, const ClimbMethod& method) {
  RideWay way;
  for (const auto& segment : route.segments) {
    if (segment.empty()) continue;
    if (auto error = add_segment(segment, method, way)) return std::unexpected(*std::move(error));
  }
  if (!way.pieces.empty()) return way;
  return refuse(Code::kNotFound, "The route has no way in it: no segment has two places.");
}

RideWay there_and_back(const RideWay& way) {
  RideWay both = way;
  both.length += way.length;
  both.too_steep += way.too_steep;
  bool anew = true;
  for (std::size_t i = way.pieces.size(); i-- > 0;) {
    RidePiece piece = way.pieces[i];
    piece.rise = -piece.rise;
    piece.heading_deg = std::remainder(piece.heading_deg + 180, 360);
    piece.starts_anew = anew;
    anew = way.pieces[i].starts_anew;  // the gap lies behind it now
    both.pieces.push_back(piece);
  }
  return both;
}

}  // namespace rollwright::mech
