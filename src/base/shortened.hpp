#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace rollwright {

/// Bytes of a value that a refusal quotes: enough to find it, also where somebody pasted a page.
inline constexpr std::size_t kMostQuoted = 40;

/// At most so many bytes of the text, and no letter cut in two. The text is UTF-8.
[[nodiscard]] std::string shortened(std::string_view text, std::size_t most = kMostQuoted);

}  // namespace rollwright
