#include "shop/numbers.hpp"

#include <cmath>

#include <fmt/format.h>

#include "base/text.hpp"
#include "mech/belt.hpp"
#include "mech/chain.hpp"
#include "mech/gearing.hpp"
#include "mech/rider_fit.hpp"
#include "mech/route.hpp"
#include "mech/tyre.hpp"
#include "shop/bike.hpp"
#include "spec/check.hpp"

namespace rollwright::shop {
namespace {

/// Facts of one bike, slot by slot.
class Facts {
 public:
  explicit Facts(spec::Bike bike) : bike_(std::move(bike)) {}

  [[nodiscard]] std::optional<double> number(const char* slot, const char* attribute) const {
    const trade::Part* part = bike_.part_in(trade::SlotId(slot));
    return part == nullptr ? std::nullopt : trade::number_of(*part, attribute);
  }
  [[nodiscard]] std::optional<int> count(const char* slot, const char* attribute) const {
    const auto value = number(slot, attribute);
    return value ? std::optional(static_cast<int>(std::lround(*value))) : std::nullopt;
  }
  [[nodiscard]] std::optional<mech::TyreSize> rear_tyre() const {
    const auto width = number("rear_tyre", "tyre_width");
    const auto bead = number("rear_tyre", "bead_seat_diameter");
    if (!width || !bead) return std::nullopt;
    return mech::TyreSize{*width * mm, *bead * mm};
  }
  [[nodiscard]] const spec::Bike& bike() const { return bike_; }

 private:
  spec::Bike bike_;
};

/// Rings, sprockets and hub gears as far as the facts tell.
std::optional<mech::GearSet> gear_set(const Facts& facts) {
  const auto ring = facts.count("chainring", "teeth");
  if (!ring) return std::nullopt;
  mech::GearSet set{.fronts = {*ring}, .rears = {}};
  const auto small_ring = facts.count("chainring", "teeth_small");
  if (small_ring && *small_ring != *ring) set.fronts.push_back(*small_ring);
  const auto cog_min = facts.count("cassette", "cog_min");
  const auto cog_max = facts.count("cassette", "cog_max");
  if (cog_min && cog_max) {
    set.rears = {*cog_min, *cog_max};
    return set;
  }
  const auto sprocket = facts.count("rear_sprocket", "teeth");
  const auto low = facts.number("rear_hub", "gear_low");
  const auto high = facts.number("rear_hub", "gear_high");
  if (!sprocket || !low || !high) return std::nullopt;
  set.rears = {*sprocket};
  set.hub_ratios = {*low, *high};
  return set;
}

void add_wheel(const Facts& facts, std::vector<NumberView>& numbers) {
  const auto tyre = facts.rear_tyre();
  if (!tyre) return;
  numbers.push_back({.name = "Wheel circumference",
                     .value = with_unit(mech::tyre_circumference(*tyre).in(mm), "mm", 0),
                     .us = with_unit(mech::tyre_circumference(*tyre).in(mm), "in", 1),
                     .how = "From the rear tyre " + mech::designation(*tyre) +
                            ", ISO 5775; a measured roll-out with the rider goes first."});
}

void add_gears(const Facts& facts, std::vector<NumberView>& numbers) {
  const auto set = gear_set(facts);
  const auto tyre = facts.rear_tyre();
  if (!set || !tyre) return;
  const auto crank = facts.number("crankset", "crank_length");
  const mech::DrivenWheel wheel{.diameter = mech::tyre_diameter(*tyre),
                                .circumference = mech::tyre_circumference(*tyre),
                                .crank = crank.value_or(170) * mm};
  const auto gears = mech::gear_list(*set, wheel);
  if (!gears || gears->gears.empty()) return;
  const mech::GearFigures& low = gears->gears.front();
  const mech::GearFigures& high = gears->gears.back();
  numbers.push_back(
      {.name = "Range of gears",
       .value = fmt::format("{:.0f} %, {:.2f} to {:.2f} m a crank turn", gears->range_percent,
                            low.development.in(metre), high.development.in(metre)),
       .us = fmt::format("{:.0f} to {:.0f} gear inches", low.equivalent.in(inch),
                         high.equivalent.in(inch)),
       .how = "Lowest and highest gear from teeth, hub ratios and the wheel's circumference."});
  const auto slow = mech::speed_at(low.development, 60);
  const auto fast = mech::speed_at(high.development, 90);
  if (!slow || !fast) return;
  numbers.push_back({.name = "Speed in the lowest gear at 60, in the highest at 90 turns a minute",
                     .value = fmt::format("{:.1f} to {:.1f} km/h", slow->in(km_per_hour),
                                          fast->in(km_per_hour)),
                     .us = fmt::format("{:.1f} to {:.1f} mph", slow->in(mile_per_hour),
                                       fast->in(mile_per_hour)),
                     .how = "Development times cadence."});
}

void add_belt(const Facts& facts, std::vector<NumberView>& numbers) {
  const auto front = facts.count("chainring", "teeth");
  const auto rear = facts.count("rear_sprocket", "teeth");
  const auto teeth = facts.count("belt", "belt_teeth");
  const auto pitch = facts.number("belt", "pitch");
  if (!front || !rear || !teeth || !pitch) return;
  const auto run = mech::belt_run({.front = *front, .rear = *rear, .pitch = *pitch * mm}, *teeth);
  if (!run) return;
  std::string value = "chainstay " + with_unit(run->centre_distance.in(mm), "mm", 1);
  const auto least = facts.number("frame", "chainstay_min");
  const auto most = facts.number("frame", "chainstay_max");
  if (least && most) {
    value += fmt::format("; the frame allows {} to {} mm", rounded(*least, 1), rounded(*most, 1));
  }
  numbers.push_back({.name = "Belt closes at", .value = value, .us = "",
                     .how = fmt::format("{} / {} teeth, belt of {} teeth, exact for ideal pulleys.",
                                        *front, *rear, *teeth)});
}

void add_chain(const Facts& facts, std::vector<NumberView>& numbers) {
  const auto ring = facts.count("chainring", "teeth");
  const auto cog = facts.count("cassette", "cog_max");
  const auto stay = facts.number("frame", "chainstay");
  const trade::Part* chain = facts.bike().part_in(trade::SlotId("chain"));
  if (chain == nullptr || !ring || !cog || !stay) return;
  const auto links = mech::derailleur_chain_links(
      {.front = *ring, .rear = *cog, .centre_distance = *stay * mm});
  if (!links) return;
  numbers.push_back({.name = "Chain", .value = fmt::format("{} links", *links), .us = "",
                     .how = "Largest ring to largest sprocket, rule of thumb; lay it on the bike "
                            "before cutting."});
}

void add_masses(const trade::Trade& trade, const Facts& facts, const trade::BuildTemplate& build,
                std::vector<NumberView>& numbers) {
  const auto permitted = facts.number("frame", "permitted_total_mass");
  if (!permitted) return;
  const spec::SpecCheck check = spec::check(trade, build, facts.bike());
  if (!check.complete || check.totals.masses_not_known > 0) return;
  const double left = *permitted - check.totals.mass.in(kg);
  numbers.push_back({.name = "Left for rider and bags", .value = with_unit(left, "kg", 1),
                     .us = with_unit(left, "lb", 0),
                     .how = fmt::format("Permitted total mass {} kg less the parts' {} kg; the "
                                        "finished bike is weighed.",
                                        rounded(*permitted, 1),
                                        rounded(check.totals.mass.in(kg), 2))});
}

void add_saddle(const Facts& facts, const trade::Order& order, std::vector<NumberView>& numbers) {
  const auto crank = facts.number("crankset", "crank_length");
  if (!order.rider.inseam || !crank) return;
  const auto height = mech::saddle_height(*order.rider.inseam, *crank * mm);
  if (!height) return;
  numbers.push_back({.name = "Saddle over bottom bracket, to start with",
                     .value = with_unit(height->by_bracket.in(mm), "mm", 0),
                     .us = with_unit(height->by_bracket.in(mm), "in", 1),
                     .how = "0.883 of the inseam; the fitting decides."});
}

void add_route(const State& state, const trade::Order& order, std::vector<NumberView>& numbers) {
  const auto figures = state.all_else->way(order.need.route);
  if (!figures) return;
  std::string value = with_unit(figures->length.in(mm), "km", 1);
  std::string us = fmt::format("{:.1f} mi", figures->length.in(mile));
  if (figures->climb) {
    value += fmt::format(", {:.0f} m up", figures->climb->up.in(metre));
    us += fmt::format(", {:.0f} ft up", figures->climb->up.in(foot));
  }
  numbers.push_back({.name = "The way: " + order.need.route, .value = value, .us = us,
                     .how = "Geodesic length on WGS 84; climb smoothed and counted with "
                            "hysteresis."});
}

}  // namespace

std::vector<NumberView> numbers_of(const trade::Trade& trade, const State& state,
                                   const trade::Order& order) {
  std::vector<NumberView> numbers;
  const Facts facts(bike_of(state, order));
  const auto build = build_of(trade, order);
  add_gears(facts, numbers);
  add_belt(facts, numbers);
  add_chain(facts, numbers);
  add_wheel(facts, numbers);
  if (build) add_masses(trade, facts, **build, numbers);
  add_saddle(facts, order, numbers);
  add_route(state, order, numbers);
  return numbers;
}

}  // namespace rollwright::shop
