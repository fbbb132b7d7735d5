#include "mech/field_range.hpp"

#include <fmt/format.h>

#include <cmath>

#include "base/text.hpp"

namespace rollwright::mech {
namespace {

std::string shown(double number) {
  return std::isfinite(number) ? rounded(number, 4) : std::string("not a number");
}

}  // namespace

std::optional<Error> first_outside(std::initializer_list<FieldRange> fields) {
  for (const FieldRange& row : fields) {
    if (row.least <= row.value && row.value <= row.most) continue;
    const std::string unit = row.unit.empty() ? "" : fmt::format(" {}", row.unit);
    return Error{
        Code::kOutOfRange,
        fmt::format("{} is {}{}; it lies between {} and {}{}.", row.field, shown(row.value),
                    std::isfinite(row.value) ? unit : "", shown(row.least), shown(row.most), unit),
        Place{.field = std::string(row.field), .value = shown(row.value)}};
  }
  return std::nullopt;
}

}  // namespace rollwright::mech
