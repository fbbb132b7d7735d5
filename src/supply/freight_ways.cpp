#include "supply/freight_ways.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/text.hpp"
#include "supply/freight_legs.hpp"
#include "supply/lead_time.hpp"

namespace rollwright::supply {
namespace {

bool comes_so(const trade::FreightWay& way, const std::string& availability) {
  return way.availability.empty() || std::ranges::count(way.availability, availability) > 0;
}

/// Of this mode; with no mode the first for the availability.
const trade::FreightWay* way_among(const std::vector<trade::FreightWay>& ways,
                                   const std::string& availability, const std::string& mode) {
  for (const trade::FreightWay& way : ways) {
    if (mode.empty() ? comes_so(way, availability) : way.mode == mode) return &way;
  }
  return nullptr;
}

Money freight_of(const trade::FreightWay& way, Mass mass) {
  const double by_mass = static_cast<double>(way.per_kg.cents) * mass.in(kg);
  return way.price + Money{std::llround(by_mass)};
}

std::optional<std::int64_t> cost_of(const trade::FreightWay& way, const FreightQuestion& question) {
  if (way.per_kg.cents == 0) return way.price.cents;
  if (!question.mass_each) return std::nullopt;
  return freight_of(way, *question.mass_each * question.quantity).cents;
}

}  // namespace

const trade::FreightWay* way_of(const trade::Supplier& supplier, const std::string& availability,
                                const std::string& mode) {
  return way_among(supplier.ways, availability, mode);
}

std::vector<std::string> all_legs(const trade::FreightWay& way) {
  std::vector<std::string> legs = {kGettingReady};
  legs.insert(legs.end(), way.legs.begin(), way.legs.end());
  return legs;
}

Roads::Roads(const std::vector<trade::FreightLeg>& legs,
             const std::vector<trade::Supplier>& suppliers)
    : legs_(legs) {
  for (const trade::Supplier& supplier : suppliers) {
    if (!supplier.ways.empty()) ways_[supplier.id] = supplier.ways;
  }
}

const trade::FreightWay* Roads::way_of(const trade::PurchaseLine& line,
                                       const std::string& availability) const {
  const auto found = ways_.find(line.supplier);
  return found == ways_.end() ? nullptr : way_among(found->second, availability, line.mode);
}

const trade::FreightWay* Roads::usual_way(const trade::SupplierId& supplier,
                                          const std::string& availability) const {
  const auto found = ways_.find(supplier);
  return found == ways_.end() ? nullptr : way_among(found->second, availability, {});
}

DayOdds Roads::rest(const trade::FreightWay& way, std::size_t done, int gone) const {
  std::vector<trade::FreightLeg> legs = legs_;
  legs.push_back(
      {.name = kGettingReady, .low = way.ready_low, .high = way.ready_high, .source = {}});
  const std::vector<std::string> names = all_legs(way);
  if (done >= names.size()) return {.by = {0.0, 1.0}};  // at the door: in hand tomorrow
  const auto now = calendar_days(legs, {names[done]});
  const auto after =
      calendar_days(legs, {names.begin() + static_cast<std::ptrdiff_t>(done) + 1, names.end()});
  if (!now || !after) return {};
  return then(given_not_yet(*now, gone), *after);
}

std::optional<DayOdds> Roads::left(const trade::PurchaseLine& line,
                                   const std::string& availability, Day today,
                                   const std::vector<Day>& closed) const {
  const trade::FreightWay* way = way_of(line, availability);
  if (way == nullptr || line.legs.empty()) return std::nullopt;
  const auto gone = static_cast<int>((today - line.legs.back().day).count());
  const DayOdds odds = rest(*way, line.legs.size(), gone);
  // Legs that the trade data does not know any more, or that outlast every table.
  if (odds.by.empty()) return std::nullopt;
  return in_working_days(odds, today, closed);
}

DayOdds Roads::whole(const trade::FreightWay& way, int gone, Day today,
                     const std::vector<Day>& closed) const {
  const DayOdds odds = rest(way, 0, gone);
  return odds.by.empty() ? odds : in_working_days(odds, today, closed);
}

std::vector<FreightMode> freight_modes(const FreightQuestion& question,
                                       const LeadTimes& lead_times) {
  const std::string& availability = question.offer.availability;
  // To be ordered now is a line placed today.
  const trade::PurchaseLine line =
      question.line != nullptr
          ? *question.line
          : trade::PurchaseLine{.supplier = question.offer.supplier, .part = question.offer.part,
                                .quantity = question.quantity, .placed = question.today};
  const trade::FreightWay* usual = way_of(question.supplier, availability, line.mode);
  if (usual == nullptr) return {};
  const std::optional<std::int64_t> usual_cost = cost_of(*usual, question);
  const auto mode_of = [&](const trade::FreightWay& way) {
    trade::PurchaseLine so = line;
    if (&way != usual) so.mode = way.mode;
    FreightMode mode{.mode = way.mode, .carrier = way.carrier, .usual = &way == usual,
                     .cost_cents = cost_of(way, question), .extra_cents = std::nullopt,
                     .days = lead_times.left(so, question.today, question.closed),
                     .basis = lead_times.basis_of_left(so, question.today, question.closed)};
    if (mode.usual) {
      mode.extra_cents = 0;
    } else if (mode.cost_cents && usual_cost) {
      mode.extra_cents = *mode.cost_cents - *usual_cost;
    }
    return mode;
  };
  std::vector<FreightMode> modes = {mode_of(*usual)};
  if (question.line == nullptr) modes.front().basis = in_words(lead_times.evidence(question.offer));
  if (!line.legs.empty()) return modes;
  for (const trade::FreightWay& way : question.supplier.ways) {
    if (&way != usual && comes_so(way, availability)) modes.push_back(mode_of(way));
  }
  return modes;
}

}  // namespace rollwright::supply
