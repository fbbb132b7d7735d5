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

std::optional<trade::RideFacts> ride_of(const std::string& gpx, const std::string& name) {
  const auto routes = mech::read_gpx(gpx, name);
  if (!routes || routes->empty()) return std::nullopt;
  const mech::Route& route = routes->front();
  const auto figures = mech::figures_of(route);
  if (!figures || !figures->climb) return std::nullopt;
  trade::RideFacts ride{.length = figures->length, .climb = figures->climb->up,
                        .steepest = figures->climb->steepest};
  if (!ends_at_home(route)) {
    ride.length += figures->length;
    ride.climb += figures->climb->down;
  }
  return ride;
}

}  // namespace rollwright::shop
