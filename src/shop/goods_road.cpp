#include <algorithm>

#include "base/text.hpp"
#include "shop/goods_shelf.hpp"
#include "shop/supply_side.hpp"
#include "supply/freight_ways.hpp"

// What happens to a line before it comes: legs of its road, its mode of freight, the supplier's day.
namespace rollwright::shop {
namespace {

BookedIn booked(const trade::PurchaseLine& line) {
  return {.line = line, .stock = {}, .receipt = {}, .why = {}};
}

Result<void> is_under_way(const trade::PurchaseLine& line) {
  if (trade::is_under_way(line.state)) return {};
  return refused(fmt::format("line {} is not under way: it is {}", line.id,
                             trade::word_of(line.state)),
                 "line", line.id);
}

/// Place of the leg that is meant among those of the road.
Result<std::size_t> leg_meant(const trade::PurchaseLine& line,
                              const std::vector<std::string>& road, const std::string& leg) {
  if (line.legs.size() >= road.size()) {
    return refused(fmt::format("every leg of line {} is done; when it is here, receive it", line.id),
                   "leg", leg);
  }
  if (leg.empty()) return line.legs.size();
  const auto found = std::ranges::find(road, leg);
  if (found == road.end()) {
    return refused("no leg of this line's road is called so; there are " + listed(road), "leg", leg,
                   Code::kNotFound);
  }
  const auto place = static_cast<std::size_t>(found - road.begin());
  if (place < line.legs.size()) {
    return refused(fmt::format("this leg was done on {} already", in_words(line.legs[place].day)),
                   "leg", leg);
  }
  return place;
}

}  // namespace

Result<BookedIn> leg_done(const GoodsInAt& at, const trade::PurchaseLine& held,
                          const LegGiven& given) {
  if (Result<void> ok = is_under_way(held); !ok) return std::unexpected(ok.error());
  const trade::FreightWay* way = lead_times_of(at.trade, at.state)->way_of(held);
  const std::vector<std::string> road =
      way == nullptr ? std::vector<std::string>{supply::kGettingReady} : supply::all_legs(*way);
  const Result<std::size_t> place = leg_meant(held, road, given.leg);
  if (!place) return std::unexpected(place.error());
  const Day day = given.day.value_or(at.today);
  if (day > at.today) {
    return refused("this day is still to come", "day", iso(day), Code::kOutOfRange);
  }
  const Day before = held.legs.empty() ? trade::waited_since(held) : held.legs.back().day;
  if (day < before) {
    return refused(fmt::format("this lies before {}, when {}", in_words(before),
                               held.legs.empty() ? std::string("the line was placed")
                                                 : held.legs.back().leg + " was done"),
                   "day", iso(day), Code::kOutOfRange);
  }
  BookedIn result = booked(held);
  // What was not noted is behind the goods all the same.
  for (std::size_t k = held.legs.size(); k <= *place; ++k) {
    result.line.legs.push_back({.leg = road[k], .day = day});
  }
  result.line.state = trade::PurchaseState::kShipped;
  if (way != nullptr) result.line.mode = way->mode;
  result.why = fmt::format("line {}: {} done on {}", held.id, road[*place], iso(day));
  return result;
}

Result<void> sends_by(const State& state, const trade::SupplierId& id, const std::string& mode) {
  const auto supplier = state.suppliers.find(id);
  std::vector<std::string> modes;
  if (supplier != state.suppliers.end()) {
    for (const trade::FreightWay& way : supplier->second->ways) modes.push_back(way.mode);
  }
  if (std::ranges::count(modes, mode) > 0) return {};
  return refused(modes.empty() ? "this supplier names no modes of freight"
                               : "this supplier's modes of freight are " + listed(modes),
                 "mode", mode, Code::kNotFound);
}

Result<BookedIn> by_mode(const GoodsInAt& at, const trade::PurchaseLine& held,
                         const std::string& mode) {
  if (Result<void> ok = is_under_way(held); !ok) return std::unexpected(ok.error());
  if (!held.legs.empty()) {
    return refused(fmt::format("line {} left the supplier on {}: it comes as it was sent", held.id,
                               in_words(held.legs.front().day)),
                   "mode", mode);
  }
  if (Result<void> ok = sends_by(at.state, held.supplier, mode); !ok) {
    return std::unexpected(ok.error());
  }
  BookedIn result = booked(held);
  result.line.mode = mode;
  result.why = fmt::format("line {} by {}", held.id, mode);
  return result;
}

Result<BookedIn> confirmed_for(const GoodsInAt& at, const trade::PurchaseLine& held, Day day) {
  if (Result<void> ok = is_under_way(held); !ok) return std::unexpected(ok.error());
  if (day < at.today) {
    return refused("a supplier's day is today or later", "day", iso(day), Code::kOutOfRange);
  }
  BookedIn result = booked(held);
  result.line.confirmed = day;
  using enum trade::PurchaseState;
  if (held.state == kPlaced || held.state == kAsked) result.line.state = kConfirmed;
  result.why = fmt::format("line {} confirmed for {}{}", held.id, iso(day),
                           held.confirmed ? ", before that for " + iso(*held.confirmed) : "");
  return result;
}

}  // namespace rollwright::shop
