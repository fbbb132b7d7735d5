#include "supply/freight_legs.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <fmt/format.h>

#include "base/text.hpp"
#include "base/working_days.hpp"

namespace rollwright::supply {
namespace {

DayOdds leg_odds(const FreightLeg& leg) {
  const double middle = (std::log(leg.low) + std::log(leg.high)) / 2;
  const double sigma = std::log(leg.high / leg.low) / (2 * trade::inverse_normal(0.9));
  DayOdds odds{.by = {0.0}};
  for (int day = 1; day <= kOddsDays; ++day) {
    odds.by.push_back(0.5 * std::erfc(-(std::log(day) - middle) / sigma / std::numbers::sqrt2));
  }
  return odds;
}

}  // namespace

Result<DayOdds> calendar_days(const std::vector<FreightLeg>& legs,
                              const std::vector<std::string>& road) {
  DayOdds sum{.by = {1.0}};
  for (const std::string& name : road) {
    const auto leg = std::ranges::find(legs, name, &FreightLeg::name);
    if (leg == legs.end()) {
      std::vector<std::string> known;
      for (const FreightLeg& other : legs) known.push_back(other.name);
      return refuse(Code::kNotFound,
                    fmt::format("there is no leg \"{}\"; on file are {}", name,
                                join(known, ", ")),
                    {.field = "leg", .value = name});
    }
    sum = then(sum, leg_odds(*leg));
  }
  return sum;
}

DayOdds in_working_days(const DayOdds& calendar, Day from, const std::vector<Day>& closed) {
  DayOdds odds;
  Day day = from;
  while (true) {
    const auto passed = static_cast<int>((day - from).count());
    odds.by.push_back(within(calendar, passed));
    if (passed >= static_cast<int>(calendar.by.size()) - 1) return odds;
    day = add_working_days(day, 1, closed);
  }
}

}  // namespace rollwright::supply
