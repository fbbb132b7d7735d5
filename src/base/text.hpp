#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"

namespace rollwright {

[[nodiscard]] std::string_view trim(std::string_view text);
/// Pieces between the separators, each trimmed; an empty text has no pieces.
[[nodiscard]] std::vector<std::string> split(std::string_view text, char separator);
[[nodiscard]] std::string join(const std::vector<std::string>& pieces, std::string_view between);
/// "a, b and c"
[[nodiscard]] std::string listed(const std::vector<std::string>& pieces);
/// The whole text as a number with a decimal point, or nothing. Refuses NaN and infinity.
[[nodiscard]] std::optional<double> to_number(std::string_view text);
[[nodiscard]] std::optional<long long> to_whole(std::string_view text);
/// Shortest decimal that reads back as the same number, never with an exponent below 1e15: "31.8".
[[nodiscard]] std::string plain(double number);
/// At most `decimals` after the point, trailing zeros dropped: "2.25", "3".
[[nodiscard]] std::string rounded(double number, int decimals);
/// The candidate that a person who mistyped `text` most likely meant (edit distance), or nothing
/// when none is near.
[[nodiscard]] std::optional<std::string> nearest(std::string_view text,
                                                 const std::vector<std::string>& candidates);
[[nodiscard]] bool is_utf8(std::string_view text);

/// Reads a whole file. Errors: kNotFound, kUnavailable, kTooLarge (over `most_bytes`).
[[nodiscard]] Result<std::string> read_file(const std::string& path,
                                            std::size_t most_bytes = 64 * 1024 * 1024);

/// ASCII letters in lower case, everything else as it is.
[[nodiscard]] std::string lowered(std::string text);

}  // namespace rollwright
