#pragma once

#include <vector>

#include "shop/state.hpp"
#include "supply/freight_ways.hpp"
#include "supply/lead_time.hpp"

namespace rollwright::shop {

/// How pieces of an offer could come if they were ordered today: the supplier's modes of freight
/// with their cost beyond the usual one and their days (supply::freight_modes). Empty when the
/// supplier names none.
[[nodiscard]] std::vector<supply::FreightMode> freight_modes(const State& state,
                                                             const supply::LeadTimes& lead_times,
                                                             const trade::Offer& offer,
                                                             int quantity, Day today);

/// The same for what is still to come of a purchase line; the first is how it comes as things stand.
[[nodiscard]] std::vector<supply::FreightMode> freight_modes(const State& state,
                                                             const supply::LeadTimes& lead_times,
                                                             const trade::PurchaseLine& line,
                                                             Day today);

}  // namespace rollwright::shop
