#include "trade/meant.hpp"

#include <fmt/format.h>

#include "base/text.hpp"

namespace rollwright::trade {

std::string meant(std::string_view text, const std::vector<std::string>& candidates) {
  // Beyond this many, a list in a sentence is no longer read.
  constexpr std::size_t kShortList = 12;
  // No name is this long; comparing a whole page with every name would only take time.
  constexpr std::size_t kLongestName = 80;
  if (text.size() > kLongestName) return {};
  if (const auto near = nearest(text, candidates)) {
    return fmt::format("; did you mean \"{}\"?", *near);
  }
  if (candidates.empty() || candidates.size() > kShortList) return {};
  return "; known here: " + join(candidates, ", ");
}

}  // namespace rollwright::trade
