#include "mech/route.hpp"

#include <algorithm>

#include "mech/geodesic.hpp"

namespace rollwright::mech {
namespace {

Result<Length> step_between(const RoutePoint& from, const RoutePoint& to) {
  const auto way =
      geodesic({from.latitude_deg, from.longitude_deg}, {to.latitude_deg, to.longitude_deg});
  if (way) return way->length;
  Error error = way.error();
  error.place.line = to.line;
  return std::unexpected(std::move(error));
}

struct SegmentFigures {
  Length length;
  int without_elevation = 0;
};

Result<SegmentFigures> segment_figures(const std::vector<RoutePoint>& segment) {
  SegmentFigures figures;
  for (std::size_t i = 0; i < segment.size(); ++i) {
    if (!segment[i].elevation) ++figures.without_elevation;
    if (i == 0) continue;
    const auto step = step_between(segment[i - 1], segment[i]);
    if (!step) return std::unexpected(step.error());
    figures.length += *step;
  }
  return figures;
}

Result<Climb> climb_over(const Route& route, const ClimbMethod& method) {
  Climb sum;
  for (const auto& segment : route.segments) {
    const auto profile = profile_of(segment);
    if (!profile) return std::unexpected(profile.error());
    const auto climb = climb_of(*profile, method);
    if (!climb) return std::unexpected(climb.error());
    sum.up += climb->up;
    sum.down += climb->down;
    sum.doubtful += climb->doubtful;
    sum.steepest = std::max(sum.steepest, climb->steepest);
  }
  return sum;
}

}  // namespace

Result<RouteFigures> figures_of(const Route& route, const ClimbMethod& method) {
  RouteFigures figures;
  const RoutePoint* before = nullptr;
  for (const auto& segment : route.segments) {
    if (segment.empty()) continue;
    const auto part = segment_figures(segment);
    if (!part) return std::unexpected(part.error());
    figures.length += part->length;
    figures.points += static_cast<int>(segment.size());
    figures.points_without_elevation += part->without_elevation;
    if (before != nullptr) {
      const auto gap = step_between(*before, segment.front());
      if (!gap) return std::unexpected(gap.error());
      figures.across_gaps += *gap;
      ++figures.gaps;
    }
    before = &segment.back();
  }
  if (figures.points == 0 || figures.points_without_elevation > 0) return figures;
  const auto climb = climb_over(route, method);
  if (!climb) return std::unexpected(climb.error());
  figures.climb = *climb;
  return figures;
}

Result<std::vector<ProfilePoint>> profile_of(const std::vector<RoutePoint>& segment) {
  std::vector<ProfilePoint> profile;
  Length along;
  for (std::size_t i = 0; i < segment.size(); ++i) {
    if (!segment[i].elevation) return std::vector<ProfilePoint>{};
    if (i > 0) {
      const auto step = step_between(segment[i - 1], segment[i]);
      if (!step) return std::unexpected(step.error());
      along += *step;
    }
    profile.push_back({along, *segment[i].elevation});
  }
  return profile;
}

}  // namespace rollwright::mech
