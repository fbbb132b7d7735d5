#include "http/token.hpp"

#include <array>

#include <sodium.h>

#include "base/result.hpp"

namespace rollwright::http {
namespace {

using Bits = std::array<unsigned char, 32>;

std::string hex_of(const Bits& bits) {
  std::array<char, sizeof(Bits) * 2 + 1> hex{};
  sodium_bin2hex(hex.data(), hex.size(), bits.data(), bits.size());
  return hex.data();
}

}  // namespace

std::string new_token() {
  ROLLWRIGHT_PROMISE(sodium_init() >= 0);
  Bits bits{};
  randombytes_buf(bits.data(), bits.size());
  return hex_of(bits);
}

std::string hash_of_token(std::string_view token) {
  Bits bits{};
  crypto_generichash(bits.data(), bits.size(),
                     reinterpret_cast<const unsigned char*>(token.data()), token.size(), nullptr,
                     0);
  return hex_of(bits);
}

bool same_text(std::string_view a, std::string_view b) {
  return a.size() == b.size() && sodium_memcmp(a.data(), b.data(), a.size()) == 0;
}

}  // namespace rollwright::http
