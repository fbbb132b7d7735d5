#include "mech/assist.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string>
#include <vector>

#include "base/text.hpp"

namespace rollwright::mech {
namespace {

constexpr const char* kEuropean = "Regulation (EU) 168/2013 Art. 2(2)(h), EN 15194 [assist-law]";
constexpr const char* kApproved = "Regulation (EU) 168/2013, Annex I [assist-law]";
constexpr const char* kFederal = "15 U.S.C. 2085, 16 CFR 1512.2(a)(2) [assist-law]";
constexpr const char* kState = "three-class laws of US states [assist-law]";

// The fades are a model: 2 km/h before the end, common practice.
constexpr AssistLaw kLaws[] = {
    {"eu-pedelec", "European Union", "Pedelec, no type approval", 25 * km_per_hour,
     23 * km_per_hour, 250 * watt, false, 6 * km_per_hour, 0.10, 2 * metre, 5 * metre,
     kEuropean},
    {"eu-l1e-a", "European Union", "Powered cycle L1e-A", 25 * km_per_hour, 23 * km_per_hour,
     1000 * watt, false, {}, 0, {}, {}, kApproved},
    {"eu-l1e-b", "European Union", "Speed pedelec L1e-B", 45 * km_per_hour, 43 * km_per_hour,
     4000 * watt, false, {}, 0, {}, {}, kApproved},
    {"us-federal", "United States", "Low-speed electric bicycle", 20 * mile_per_hour,
     30 * km_per_hour, 750 * watt, true, {}, 0, {}, {}, kFederal},
    {"us-class-1", "United States", "Class 1", 20 * mile_per_hour, 30 * km_per_hour, 750 * watt,
     false, {}, 0, {}, {}, kState},
    {"us-class-2", "United States", "Class 2", 20 * mile_per_hour, 30 * km_per_hour, 750 * watt,
     true, {}, 0, {}, {}, kState},
    {"us-class-3", "United States", "Class 3", 28 * mile_per_hour, 43 * km_per_hour, 750 * watt,
     false, {}, 0, {}, {}, kState},
};

}  // namespace

std::span<const AssistLaw> assist_laws() { return kLaws; }

Result<AssistLaw> assist_law(std::string_view key) {
  const auto found = std::ranges::find(kLaws, key, &AssistLaw::key);
  if (found != std::end(kLaws)) return *found;
  std::vector<std::string> keys;
  for (const AssistLaw& law : kLaws) keys.emplace_back(law.key);
  return refuse(Code::kNotFound,
                fmt::format("There is no assist class \"{}\"; there are {}.", key, listed(keys)),
                {.field = "assist class", .value = std::string(key)});
}

double help_at(const AssistLaw& law, Speed speed) {
  if (speed <= law.fades_from) return 1;
  if (speed >= law.help_ends) return 0;
  return (law.help_ends - speed) / (law.help_ends - law.fades_from);
}

}  // namespace rollwright::mech
