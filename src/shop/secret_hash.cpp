#include "shop/secret_hash.hpp"

#include <array>
#include <mutex>

#include <sodium.h>

namespace rollwright::shop {
namespace {

constexpr unsigned long long kPasses = 3;
constexpr std::size_t kMemoryBytes = 64ULL * 1024 * 1024;

/// One at a time: many at once would take the machine's memory.
std::mutex& one_at_a_time() {
  static std::mutex mutex;
  return mutex;
}

void ready() { ROLLWRIGHT_PROMISE(sodium_init() >= 0); }

}  // namespace

Result<std::string> hash_of_secret(std::string_view secret) {
  ready();
  const std::lock_guard lock(one_at_a_time());
  std::array<char, crypto_pwhash_STRBYTES> hash{};
  if (crypto_pwhash_str_alg(hash.data(), secret.data(), secret.size(), kPasses, kMemoryBytes,
                            crypto_pwhash_ALG_ARGON2ID13) != 0) {
    return refuse(Code::kUnavailable,
                  "there is not enough memory (64 MiB) to keep a password safely");
  }
  return std::string(hash.data());
}

bool is_secret_of(const std::string& hash, std::string_view secret) {
  // Nobody's: made of random bytes that are forgotten.
  static const Result<std::string> kNobodys = [] {
    ready();
    std::array<char, 32> random{};
    randombytes_buf(random.data(), random.size());
    return hash_of_secret(std::string_view(random.data(), random.size()));
  }();
  if (!kNobodys) return false;
  const std::string& against = hash.empty() ? *kNobodys : hash;
  const std::lock_guard lock(one_at_a_time());
  const bool same = crypto_pwhash_str_verify(against.c_str(), secret.data(), secret.size()) == 0;
  return same && !hash.empty();
}

}  // namespace rollwright::shop
