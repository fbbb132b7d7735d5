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

/// `days` working days later, or sooner when negative; nothing comes before today.
DayOdds moved(const DayOdds& odds, int days) {
  DayOdds later;
  for (int k = 0; k <= kOddsDays; ++k) later.by.push_back(k == 0 ? 0 : within(odds, k - days));
  return later;
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

std::string basis_of(const trade::FreightWay& way) {
  return fmt::format("ready in {:g} to {:g} days, then {}", way.ready_low, way.ready_high,
                     join(way.legs, ", "));
}

}  // namespace

const trade::FreightWay* way_of(const trade::Supplier& supplier, const std::string& availability,
                                const std::string& mode) {
  for (const trade::FreightWay& way : supplier.ways) {
    if (mode.empty() ? comes_so(way, availability) : way.mode == mode) return &way;
  }
  return nullptr;
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
  if (found == ways_.end()) return nullptr;
  for (const trade::FreightWay& way : found->second) {
    if (line.mode.empty() ? comes_so(way, availability) : way.mode == line.mode) return &way;
  }
  return nullptr;
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

std::vector<FreightMode> freight_modes(const FreightQuestion& question, const Roads& roads,
                                       const LeadTimes& lead_times) {
  const trade::PurchaseLine* line = question.line;
  const std::string& availability = question.offer.availability;
  const trade::FreightWay* usual =
      way_of(question.supplier, availability, line == nullptr ? std::string() : line->mode);
  if (usual == nullptr) return {};
  const DayOdds learned = line == nullptr
                              ? lead_times.odds(question.offer)
                              : lead_times.left(*line, question.today, question.closed);
  const std::optional<std::int64_t> usual_cost = cost_of(*usual, question);
  std::vector<FreightMode> modes = {
      {.mode = usual->mode, .carrier = usual->carrier, .usual = true, .cost_cents = usual_cost,
       .extra_cents = 0, .days = learned,
       .basis = line == nullptr ? in_words(lead_times.evidence(question.offer))
                                : lead_times.left_as_spread(*line, question.today, question.closed)
                                      .basis}};
  if (line != nullptr && !line->legs.empty()) return modes;

  const int gone = line == nullptr
                       ? 0
                       : static_cast<int>((question.today - trade::waited_since(*line)).count());
  const auto good = [&](const trade::FreightWay& way) {
    return lead_times.good(question.offer,
                           roads.whole(way, gone, question.today, question.closed));
  };
  const int by_legs = days_for(good(*usual), 0.5);
  const int by_learned = days_for(learned, 0.5);
  if (by_legs > kOddsDays || by_learned > kOddsDays) return modes;
  for (const trade::FreightWay& way : question.supplier.ways) {
    if (&way == usual || !comes_so(way, availability)) continue;
    FreightMode mode{.mode = way.mode, .carrier = way.carrier, .usual = false,
                     .cost_cents = cost_of(way, question), .extra_cents = std::nullopt,
                     .days = moved(good(way), by_learned - by_legs), .basis = basis_of(way)};
    if (mode.cost_cents && usual_cost) mode.extra_cents = *mode.cost_cents - *usual_cost;
    modes.push_back(std::move(mode));
  }
  return modes;
}

}  // namespace rollwright::supply
