#pragma once

#include <string>
#include <string_view>

#include "base/result.hpp"

namespace rollwright::shop {

/// Hash of a password or PIN with a fresh salt, as one text that carries its salt and cost, so that
/// the cost may rise later. Slow and hungry for memory on purpose: whoever gets hold of the book
/// tries few words a second.
///
/// Method:  Argon2id, 3 passes over 64 MiB: about 0.1 to 0.3 s on the machines of a shop.
/// Source:  RFC 9106, section 4 (the second choice, for machines with little memory), with one lane;
///          computed by libsodium's crypto_pwhash.
/// Errors:  kUnavailable when the memory is not to be had.
[[nodiscard]] Result<std::string> hash_of_secret(std::string_view secret);

/// Whether the hash is that of these words, in the same time whether it is or not. An empty hash is
/// nobody's: the work is done all the same, so that the time tells nothing.
[[nodiscard]] bool is_secret_of(const std::string& hash, std::string_view secret);

}  // namespace rollwright::shop
