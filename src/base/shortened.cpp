#include "base/shortened.hpp"

namespace rollwright {

std::string shortened(std::string_view text, std::size_t most) {
  if (text.size() <= most) return std::string(text);
  const auto goes_on = [text](std::size_t at) {
    return (static_cast<unsigned char>(text[at]) & 0xc0U) == 0x80U;
  };
  while (most > 0 && goes_on(most)) --most;
  return std::string(text.substr(0, most));
}

}  // namespace rollwright
