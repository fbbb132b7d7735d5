#pragma once

#include <fstream>
#include <map>
#include <optional>
#include <sstream>
#include <string>

#include "mech/route.hpp"
#include "spec/bike.hpp"
#include "trade/load_trade.hpp"
#include "trade/order_facts.hpp"
#include "trade/shop_files.hpp"

// For tests of this room only: the trade as the folder data/trade states it, and the invented shop
// of data/demo with its parts, orders and rides.

namespace rollwright::spec {

inline const trade::LoadedTrade& real_trade() {
  static const trade::LoadedTrade kLoaded = trade::load_trade(ROLLWRIGHT_ROOT "/data/trade");
  return kLoaded;
}

inline const trade::ReadShopFiles& demo_shop() {
  static const trade::ReadShopFiles kRead =
      trade::read_shop_files(real_trade().trade, ROLLWRIGHT_ROOT "/data/demo");
  return kRead;
}

/// What a route of the demo comes to; nothing when the order names none.
inline std::optional<trade::RideFacts> demo_ride(const std::string& route) {
  if (route.empty()) return std::nullopt;
  std::ifstream file(ROLLWRIGHT_ROOT "/data/demo/routes/" + route + ".gpx");
  std::stringstream text;
  text << file.rdbuf();
  const auto routes = mech::read_gpx(text.str(), route);
  if (!routes || routes->empty()) return std::nullopt;
  const auto figures = mech::figures_of(routes->front());
  if (!figures || !figures->climb) return std::nullopt;
  return trade::RideFacts{figures->length, figures->climb->up, figures->climb->steepest};
}

inline std::map<trade::PartId, const trade::Part*> demo_parts() {
  std::map<trade::PartId, const trade::Part*> parts;
  for (const trade::Part& part : demo_shop().files.parts) parts.emplace(part.id, &part);
  return parts;
}

/// The bike that an order of the demo describes, with its rider and its ride.
inline Bike demo_bike(const trade::Order& order,
                      const std::map<trade::PartId, const trade::Part*>& parts) {
  Bike bike{.parts = {},
            .order = trade::order_facts(order, demo_ride(order.need.route)),
            .rider = trade::rider_facts(order)};
  for (const auto& [slot, id] : order.choices) {
    if (!id.empty()) bike.parts.emplace(slot, parts.at(id));
  }
  return bike;
}

}  // namespace rollwright::spec
