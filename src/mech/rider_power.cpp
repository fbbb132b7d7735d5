#include "mech/rider_power.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "base/text.hpp"
#include "mech/field_range.hpp"

namespace rollwright::mech {
namespace {

// [rider-power]
constexpr RidingStyle kStyles[] = {
    {"easy", "easy, could sing", 0.8},
    {"steady", "steady, can talk", 1.3},
    {"brisk", "brisk, short sentences", 2.0},
    {"sporting", "sporting, trained", 2.8},
};
constexpr double kUnmeasuredSpread = 0.2;

}  // namespace

std::span<const RidingStyle> riding_styles() { return kStyles; }

Result<RiderPower> rider_power_by_style(std::string_view key, Mass rider) {
  if (auto error = first_outside({{"rider", rider.in(kg), 10, 250, "kg"}})) {
    return std::unexpected(*std::move(error));
  }
  const auto found = std::ranges::find(kStyles, key, &RidingStyle::key);
  if (found != std::end(kStyles)) {
    return RiderPower{found->watts_per_kg * rider.in(kg) * watt, kUnmeasuredSpread};
  }
  std::vector<std::string> keys;
  for (const RidingStyle& style : kStyles) keys.emplace_back(style.key);
  return refuse(Code::kNotFound,
                fmt::format("There is no riding style \"{}\"; there are {}.", key, listed(keys)),
                {.field = "riding style", .value = std::string(key)});
}

Power power_of_day(const RiderPower& rider, double standard_normal) {
  const double sigma = std::sqrt(std::log1p(rider.day_spread * rider.day_spread));
  return rider.typical * std::exp(sigma * standard_normal);
}

}  // namespace rollwright::mech
