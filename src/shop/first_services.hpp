#pragma once

#include <vector>

#include "shop/state.hpp"

/// Bikes whose first service is near or past. Pure.
namespace rollwright::shop {

struct FirstService {
  const trade::Order* order = nullptr;  // of the state
  Day day = {};                         // as it was set when the bike went into care
  Day in_care = {};                     // since when it is
};

/// Days before its day from which a first service is spoken of, and after it until when: a rider who
/// has not come by then comes when they want.
inline constexpr int kServiceAhead = 14;
inline constexpr int kServicePast = 120;

/// Of bikes in care, by day. Whether a bike has been here since is not looked at.
[[nodiscard]] std::vector<FirstService> first_services(const State& state, Day today);

/// "1988 Wendel Thorne: the first service is set for Thursday 3 December. To be reached at ..."
[[nodiscard]] std::string sentence_of(const FirstService& service, Day today);

}  // namespace rollwright::shop
