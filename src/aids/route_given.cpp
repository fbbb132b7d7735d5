#include "aids/route_given.hpp"

#include <optional>

#include <fmt/format.h>

namespace rollwright::aids {
namespace {

Result<mech::RideWay> longest_of(const std::vector<mech::Route>& routes) {
  std::optional<mech::RideWay> longest;
  std::optional<Error> trouble;
  for (const mech::Route& route : routes) {
    auto way = mech::ride_way(route);
    if (!way) {
      if (!trouble) trouble = way.error();
    } else if (!longest || way->length > longest->length) {
      longest = std::move(*way);
    }
  }
  if (longest) return std::move(*longest);
  return std::unexpected(trouble.value_or(Error{Code::kBadInput, "the file holds no way"}));
}

Error at_route(Error error) {
  if (error.place.field.empty()) error.place.field = "route";
  return error;
}

}  // namespace

Result<mech::RideWay> way_of(const Given& given, Reckoned& reckoned) {
  if (!given.has("route")) {
    return refuse(Code::kBadInput, "choose the route: a GPX file", {.field = "route"});
  }
  const auto routes = mech::read_gpx(given.word("route"), "the route");
  if (!routes) return std::unexpected(at_route(routes.error()));
  const auto longest = longest_of(*routes);
  if (!longest) return std::unexpected(at_route(longest.error()));
  if (longest->too_steep > 50 * metre) {
    reckoned.cautions.push_back(fmt::format(
        "{} of the way are steeper than 30 %: the recorded heights are wrong there, or it is no "
        "road.", with_unit(longest->too_steep.in(mm), "m", 0)));
  }
  if (routes->size() > 1) {
    reckoned.cautions.push_back(fmt::format("The file holds {} ways; the longest is taken.",
                                            routes->size()));
  }
  return given.word("back") == "there and back" ? mech::there_and_back(*longest) : *longest;
}

std::vector<Input> route_fields() {
  return {file("route", "Route", "application/gpx+xml", "a GPX file, 1.0 or 1.1, with heights"),
          choice("back", "Ridden", {"once", "there and back"})};
}

}  // namespace rollwright::aids
