#pragma once

#include <string>
#include <string_view>

namespace rollwright::http {

/// 256 random bits as 64 hexadecimal digits: nobody guesses them.
[[nodiscard]] std::string new_token();

/// What is kept of a token, so that nobody who sees the memory or a list of sessions can use it.
/// BLAKE2b-256; a token is random, so a fast hash will do.
[[nodiscard]] std::string hash_of_token(std::string_view token);

/// Takes the same time for texts of one length, wherever they differ.
[[nodiscard]] bool same_text(std::string_view a, std::string_view b);

}  // namespace rollwright::http
