#include "shop/freight.hpp"

#include <algorithm>

namespace rollwright::shop {
namespace {

std::vector<supply::FreightMode> modes_of(const State& state, const supply::LeadTimes& lead_times,
                                          const trade::Offer& offer, int quantity,
                                          const trade::PurchaseLine* line, Day today) {
  const auto supplier = state.suppliers.find(offer.supplier);
  if (supplier == state.suppliers.end()) return {};
  const trade::Part* part = state.part(offer.part);
  return supply::freight_modes(
      {.supplier = *supplier->second, .offer = offer, .quantity = quantity,
       .mass_each = part == nullptr ? std::nullopt : trade::mass_of(*part), .line = line,
       .today = today, .closed = state.settings.closed},
      lead_times);
}

}  // namespace

std::vector<supply::FreightMode> freight_modes(const State& state,
                                               const supply::LeadTimes& lead_times,
                                               const trade::Offer& offer, int quantity,
                                               Day today) {
  return modes_of(state, lead_times, offer, quantity, nullptr, today);
}

std::vector<supply::FreightMode> freight_modes(const State& state,
                                               const supply::LeadTimes& lead_times,
                                               const trade::PurchaseLine& line, Day today) {
  const int pieces = trade::pieces_to_come(line);
  if (pieces == 0) return {};
  const auto& offers = state.held.offers;
  const auto offer = std::ranges::find_if(offers, [&](const trade::Offer& each) {
    return each.supplier == line.supplier && each.part == line.part;
  });
  // A line whose offer is no longer on file comes as what is stocked does.
  const trade::Offer as_stocked{.supplier = line.supplier, .part = line.part, .article = {},
                                .breaks = {}, .availability = "stocked"};
  return modes_of(state, lead_times, offer == offers.end() ? as_stocked : *offer, pieces, &line,
                  today);
}

}  // namespace rollwright::shop
