#pragma once

#include <cstddef>
#include <string>

#include <fmt/format.h>

namespace rollwright::shop {

/// "1 line is", "3 lines are"
[[nodiscard]] inline std::string counted(std::size_t count, const char* one, const char* more) {
  return fmt::format("{} {}", count, count == 1 ? one : more);
}

}  // namespace rollwright::shop
