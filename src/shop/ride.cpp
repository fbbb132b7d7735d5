#include "shop/ride.hpp"

#include "mech/geodesic.hpp"
#include "mech/route.hpp"

namespace rollwright::shop {
namespace {

bool ends_at_home(const mech::Route& route) {
  const mech::RoutePoint& first = route.segments.front().front();
  const mech::RoutePoint& last = route.segments.back().back();
  const auto home = mech::geodesic({first.latitude_deg, first.longitude_deg},
                                   {last.latitude_deg, last.longitude_deg});
  return home && home->length <= 1 * km;
}

}  // namespace

std::optional<RouteLooked> look_at_route(const std::string& gpx, const std::string& name) {
  const auto routes = mech::read_gpx(gpx, name);
  if (!routes || routes->empty()) return std::nullopt;
  const mech::Route& route = routes->front();
  const auto figures = mech::figures_of(route);
  if (!figures) return std::nullopt;
  RouteLooked looked{.once = *figures, .ends_at_home = ends_at_home(route), .ride = {}};
  if (!figures->climb) return looked;
  looked.ride = trade::RideFacts{.length = figures->length, .climb = figures->climb->up,
                                 .steepest = figures->climb->steepest};
  if (!looked.ends_at_home) {
    looked.ride->length += figures->length;
    looked.ride->climb += figures->climb->down;
  }
  return looked;
}

std::optional<trade::RideFacts> ride_of(const std::string& gpx, const std::string& name) {
  const auto looked = look_at_route(gpx, name);
  return looked ? looked->ride : std::nullopt;
}

}  // namespace rollwright::shop
