#include "base/random.hpp"

#include <bit>
#include <cmath>

#include "base/result.hpp"

namespace rollwright {
namespace {

std::uint64_t splitmix(std::uint64_t& state) {
  state += 0x9e3779b97f4a7c15ULL;
  std::uint64_t z = state;
  z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9ULL;
  z = (z ^ (z >> 27)) * 0x94d049bb133111ebULL;
  return z ^ (z >> 31);
}

}  // namespace

Random::Random(std::uint64_t seed) : seed_(seed), state_{} {
  std::uint64_t filler = seed;
  for (std::uint64_t& word : state_) word = splitmix(filler);
}

Random Random::split(std::uint64_t stream) const {
  std::uint64_t mixed = seed_ ^ (stream * 0xd1342543de82ef95ULL + 0x632be59bd9b4e019ULL);
  return Random(splitmix(mixed));
}

std::uint64_t Random::bits() {
  const std::uint64_t result = std::rotl(state_[1] * 5, 7) * 9;
  const std::uint64_t shifted = state_[1] << 17;
  state_[2] ^= state_[0];
  state_[3] ^= state_[1];
  state_[1] ^= state_[2];
  state_[0] ^= state_[3];
  state_[2] ^= shifted;
  state_[3] = std::rotl(state_[3], 45);
  return result;
}

double Random::uniform() { return static_cast<double>(bits() >> 11) * 0x1.0p-53; }

std::uint64_t Random::below(std::uint64_t count) {
  ROLLWRIGHT_PROMISE(count > 0);
  // Rejection keeps every number equally likely.
  const std::uint64_t limit = UINT64_MAX - UINT64_MAX % count;
  std::uint64_t drawn = bits();
  while (drawn >= limit) drawn = bits();
  return drawn % count;
}

double Random::normal() {
  if (has_spare_) {
    has_spare_ = false;
    return spare_;
  }
  double x = 0;
  double y = 0;
  double square = 0;
  do {
    x = 2 * uniform() - 1;
    y = 2 * uniform() - 1;
    square = x * x + y * y;
  } while (square >= 1 || square == 0);
  const double scale = std::sqrt(-2 * std::log(square) / square);
  spare_ = y * scale;
  has_spare_ = true;
  return x * scale;
}

double Random::lognormal(double mu, double sigma) { return std::exp(mu + sigma * normal()); }

}  // namespace rollwright
