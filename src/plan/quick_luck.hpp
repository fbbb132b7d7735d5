#pragma once

#include <bit>
#include <cmath>
#include <cstdint>

/// Luck that is asked for once for every task of every draw: whole numbers that look random, and
/// what makes minutes of them. In the header and without branches, so that a loop over tasks has
/// them in line and may do several at once. Sums, products, quotients and square roots only: the
/// same on every machine, however many at once.
namespace rollwright::plan {

/// Finalizer of splitmix64: every bit of the result depends on every bit given.
[[nodiscard]] inline std::uint64_t mixed(std::uint64_t z) {
  z += 0x9e3779b97f4a7c15ULL;
  z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9ULL;
  z = (z ^ (z >> 27)) * 0x94d049bb133111ebULL;
  return z ^ (z >> 31);
}

/// Inside (0, 1), never on an end.
[[nodiscard]] inline double uniform(std::uint64_t bits) {
  constexpr std::uint64_t kOne = 0x3ff0000000000000ULL;  // of 1.0; the rest is what follows 1
  return (std::bit_cast<double>(bits >> 12 | kOne) - 1) + 0x1.0p-53;
}

/// Added to a number of less than 2^51, it rounds that to a whole one, which its last bits then are.
inline constexpr double kToWhole = 0x1.8p52;

/// Natural logarithm of a normal positive number.
/// Method:   ln m = 2 artanh((m - 1) / (m + 1)) with m from the root of 1/2 to that of 2, as a
///           series.
/// Accuracy: 1e-12.
[[nodiscard]] inline double quick_log(double x) {
  constexpr std::uint64_t kRootOfHalf = 0x3fe6a09e667f3bcdULL;
  constexpr std::uint64_t kPositive = 1024;  // keeps the power of two from being negative
  const std::uint64_t bits = std::bit_cast<std::uint64_t>(x) - kRootOfHalf + (kPositive << 52);
  const double twos =
      std::bit_cast<double>(std::bit_cast<std::uint64_t>(kToWhole) + (bits >> 52)) -
      (kToWhole + kPositive);
  const double m = std::bit_cast<double>((bits & 0xfffffffffffffULL) + kRootOfHalf);
  const double s = (m - 1) / (m + 1);
  const double q = s * s;
  const double series =
      1 + q * (1. / 3 + q * (1. / 5 + q * (1. / 7 + q * (1. / 9 + q * (1. / 11 + q / 13)))));
  return twos * 0.69314718055994530942 + 2 * s * series;
}

/// e to the power of x, x in [-700, 700].
/// Method:   2 to a whole power times the series of what is left.
/// Accuracy: 1e-9 of the result.
[[nodiscard]] inline double quick_exp(double x) {
  const double twos = x * 1.4426950408889634074 + kToWhole;
  const double r = x - (twos - kToWhole) * 0.69314718055994530942;
  const double rest = 1. / 24 + r * (1. / 120 + r * (1. / 720 + r * (1. / 5040 + r / 40320)));
  const double series = 1 + r * (1 + r * (1. / 2 + r * (1. / 6 + r * rest)));
  return series * std::bit_cast<double>((std::bit_cast<std::uint64_t>(twos) + 1023) << 52);
}

/// Inverse of the standard normal distribution, p in (0, 1).
/// Source:   Wichura 1988, Algorithm AS 241, the shorter routine PPND7 (constants from memory,
///           tested against trade::inverse_normal).
/// Accuracy: about 1e-7.
[[nodiscard]] inline double quick_inverse_normal(double p) {
  const double q = p - 0.5;
  const double c = 0.180625 - q * q;
  const double middle =
      q * (((59.109374720 * c + 159.29113202) * c + 50.434271938) * c + 3.3871327179) /
      (((67.187563600 * c + 78.757757664) * c + 17.895169469) * c + 1);
  const double root = std::sqrt(-quick_log(q < 0 ? p : 1 - p));
  const double a = root - 1.6;
  const double tail = (((0.17023821103 * a + 1.3067284816) * a + 2.7568153900) * a + 1.4234372777) /
                      ((0.12021132975 * a + 0.73700164250) * a + 1);
  const double b = root - 5;
  const double far_tail =
      (((0.017337203997 * b + 0.42868294337) * b + 3.0812263860) * b + 6.6579051150) /
      ((0.012258202635 * b + 0.24197894225) * b + 1);
  const double beyond = root <= 5 ? tail : far_tail;
  return std::abs(q) <= 0.425 ? middle : q < 0 ? -beyond : beyond;
}

}  // namespace rollwright::plan
