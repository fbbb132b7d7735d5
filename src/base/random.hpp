#pragma once

#include <array>
#include <cstdint>

namespace rollwright {

/// Seeded random numbers that are the same on every machine (the standard library's distributions
/// are not). Generator: xoshiro256** seeded by splitmix64 (Blackman and Vigna, 2018, public domain
/// description; constants from memory, pinned by a test against the published first outputs).
///
/// Threads: one per thread. `split(n)` gives independent streams, so that work shared out over
/// threads draws the same numbers whatever the number of threads.
class Random {
 public:
  explicit Random(std::uint64_t seed);

  [[nodiscard]] Random split(std::uint64_t stream) const;

  std::uint64_t bits();
  /// Uniform in [0, 1).
  double uniform();
  /// Uniform whole number in [0, count). `count` must be positive.
  std::uint64_t below(std::uint64_t count);
  /// Standard normal (polar method).
  double normal();
  /// exp(mu + sigma * normal)
  double lognormal(double mu, double sigma);

 private:
  std::uint64_t seed_;
  std::array<std::uint64_t, 4> state_;
  double spare_ = 0;
  bool has_spare_ = false;
};

}  // namespace rollwright
