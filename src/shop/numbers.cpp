#include "shop/numbers.hpp"

#include <cmath>

#include <fmt/format.h>

#include "base/text.hpp"
#include "mech/belt.hpp"
#include "mech/chain.hpp"
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

void add_wheel(const Facts& facts, std::vector<NumberView>& numbers) {
  const auto tyre = facts.rear_tyre();
  if (!tyre) return;
  numbers.push_back({.name = "Wheel circumference",
                     .value = with_unit(mech::tyre_circumference(*tyre).in(mm), "mm", 0),
                     .us = with_unit(mech::tyre_circumference(*tyre).in(mm), "in", 1),
                     .how = "From the rear tyre " + mech::designation(*tyre) +
                            ", ISO 5775; a measured roll-out with the rider goes first."});
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
  const auto looked = state.all_else->route(order.need.route);
  if (!looked) return;
  const mech::RouteFigures& once = looked->once;
  std::string value = with_unit(once.length.in(mm), "km", 1);
  std::string us = fmt::format("{:.1f} mi", once.length.in(mile));
  if (once.climb) {
    value += fmt::format(", {:.0f} m up", once.climb->up.in(metre));
    us += fmt::format(", {:.0f} ft up", once.climb->up.in(foot));
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
  add_belt(facts, numbers);
  add_chain(facts, numbers);
  add_wheel(facts, numbers);
  if (build) add_masses(trade, facts, **build, numbers);
  add_saddle(facts, order, numbers);
  add_route(state, order, numbers);
  return numbers;
}

}  // namespace rollwright::shop
