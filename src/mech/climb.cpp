#include "mech/climb.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "mech/field_range.hpp"

namespace rollwright::mech {
namespace {

constexpr std::size_t kMostSamples = 5'000'000;
constexpr double kDeviationPerMedian = 1.4826;  // of a normal distribution
constexpr double kCountedOverNoise = 6;         // [climb], our choice
constexpr Length kLeastHysteresis = 3 * metre;  // [climb]
constexpr Length kMostHysteresis = 10 * metre;  // [climb]
constexpr Length kWidestWindow = 400 * metre;
constexpr double kSteepestClimb = 0.30;  // [climb]

std::optional<Error> method_problem(const ClimbMethod& method) {
  if (auto error =
          first_outside({{"sample spacing", method.spacing.in(metre), 1, 100, "m"},
                         {"median points", static_cast<double>(method.median_points), 1, 51, ""},
                         {"smoothing window", method.window.in(metre), 0, 1000, "m"},
                         {"hysteresis", method.hysteresis.in(metre), 0, 50, "m"}})) {
    return error;
  }
  if (method.median_points % 2 == 1) return std::nullopt;
  return Error{Code::kOutOfRange, "The median is taken over an odd count of points.",
               Place{.field = "median points"}};
}

std::optional<Error> profile_problem(const std::vector<ProfilePoint>& profile) {
  for (std::size_t i = 0; i < profile.size(); ++i) {
    if (auto error =
            first_outside({{"way", profile[i].along.in(km), 0, 1e5, "km"},
                           {"elevation", profile[i].elevation.in(metre), -500, 9000, "m"}})) {
      return error;
    }
    if (i > 0 && profile[i].along < profile[i - 1].along) {
      return Error{Code::kBadInput,
                   fmt::format("The way along the profile runs backwards at point {}.", i + 1),
                   Place{.field = "way"}};
    }
  }
  return std::nullopt;
}

/// Heights in metres at even steps from start to end; the last one is the end itself.
std::vector<double> even_samples(const std::vector<ProfilePoint>& profile, std::size_t count) {
  const double start = profile.front().along.in(metre);
  const double step = (profile.back().along.in(metre) - start) / static_cast<double>(count - 1);
  std::vector<double> samples;
  samples.reserve(count);
  std::size_t next = 1;
  for (std::size_t i = 0; i + 1 < count; ++i) {
    const double at = start + step * static_cast<double>(i);
    while (next + 1 < profile.size() && profile[next].along.in(metre) < at) ++next;
    const ProfilePoint& a = profile[next - 1];
    const ProfilePoint& b = profile[next];
    const double width = (b.along - a.along).in(metre);
    const double share = width > 0 ? (at - a.along.in(metre)) / width : 0;
    samples.push_back(a.elevation.in(metre) + share * (b.elevation - a.elevation).in(metre));
  }
  samples.push_back(profile.back().elevation.in(metre));
  return samples;
}

/// Half width of a window around `i` that stays even on both sides within `count` samples.
std::size_t half_at(std::size_t i, std::size_t count, std::size_t half) {
  return std::min({half, i, count - 1 - i});
}

std::vector<double> running_median(const std::vector<double>& samples, int points) {
  std::vector<double> result(samples.size());
  std::vector<double> window;
  for (std::size_t i = 0; i < samples.size(); ++i) {
    const std::size_t half = half_at(i, samples.size(), static_cast<std::size_t>(points / 2));
    const auto first = samples.begin() + static_cast<std::ptrdiff_t>(i - half);
    window.assign(first, first + static_cast<std::ptrdiff_t>(2 * half + 1));
    const auto middle = window.begin() + static_cast<std::ptrdiff_t>(half);
    std::nth_element(window.begin(), middle, window.end());
    result[i] = *middle;
  }
  return result;
}

std::vector<double> running_mean(const std::vector<double>& samples, std::size_t widest_half) {
  std::vector<double> sums(samples.size() + 1, 0.0);
  for (std::size_t i = 0; i < samples.size(); ++i) sums[i + 1] = sums[i] + samples[i];
  std::vector<double> result(samples.size());
  for (std::size_t i = 0; i < samples.size(); ++i) {
    const std::size_t half = half_at(i, samples.size(), widest_half);
    result[i] = (sums[i + half + 1] - sums[i - half]) / static_cast<double>(2 * half + 1);
  }
  return result;
}

Climb between_turning_points(const std::vector<ProfilePoint>& smooth, double hysteresis) {
  double up = 0;
  double down = 0;
  const auto count = [&up, &down](double change) { (change > 0 ? up : down) += std::fabs(change); };
  double turn = smooth.front().elevation.in(metre);  // the last turning point
  double extreme = turn;             // farthest from it in the present direction
  int direction = 0;                 // 0 until the first change reaches the hysteresis
  double lowest = turn;
  double highest = turn;
  for (const ProfilePoint& point : smooth) {
    const double height = point.elevation.in(metre);
    if (direction == 0) {
      lowest = std::min(lowest, height);
      highest = std::max(highest, height);
      if (highest - lowest < hysteresis || highest == lowest) continue;
      direction = height == highest ? 1 : -1;
      turn = direction > 0 ? lowest : highest;
      extreme = height;
    } else if ((height - extreme) * direction >= 0) {
      extreme = height;
    } else if ((extreme - height) * direction >= hysteresis) {
      count(extreme - turn);
      turn = extreme;
      extreme = height;
      direction = -direction;
    }
  }
  if (direction != 0) count(extreme - turn);
  return {.up = up * metre, .down = down * metre};
}

void add_steepness(const std::vector<ProfilePoint>& smooth, Climb& climb) {
  const Length step = (smooth.back().along - smooth.front().along) /
                      static_cast<double>(smooth.size() - 1);
  if (!(step > Length{})) return;
  for (std::size_t i = 1; i < smooth.size(); ++i) {
    const Length rise = smooth[i].elevation - smooth[i - 1].elevation;
    climb.steepest = std::max(climb.steepest, std::fabs(rise / step));
    if (rise / step > kSteepestClimb) climb.doubtful += rise;
  }
}

}  // namespace

Result<std::vector<ProfilePoint>> smooth_profile(const std::vector<ProfilePoint>& profile,
                                                 const ClimbMethod& method) {
  if (auto error = method_problem(method)) return std::unexpected(*error);
  if (auto error = profile_problem(profile)) return std::unexpected(*error);
  if (profile.size() < 2) return std::vector<ProfilePoint>{};
  const Length way = profile.back().along - profile.front().along;
  const double steps = std::max(1.0, std::ceil(way / method.spacing));
  if (!(steps < static_cast<double>(kMostSamples))) {
    return refuse(Code::kTooLarge,
                  fmt::format("The way of {:.0f} km makes more than {} samples; take a wider "
                              "spacing.",
                              way.in(km), kMostSamples),
                  {.field = "sample spacing"});
  }
  const auto samples = even_samples(profile, static_cast<std::size_t>(steps) + 1);
  const auto half = static_cast<std::size_t>(method.window / method.spacing / 2);
  const auto heights = running_mean(running_median(samples, method.median_points), half);
  std::vector<ProfilePoint> smooth;
  smooth.reserve(heights.size());
  for (const double height : heights) {
    const double share = static_cast<double>(smooth.size()) / steps;
    smooth.push_back({profile.front().along + share * way, height * metre});
  }
  return smooth;
}

Result<Climb> climb_of(const std::vector<ProfilePoint>& profile, const ClimbMethod& method) {
  const auto smooth = smooth_profile(profile, method);
  if (!smooth) return std::unexpected(smooth.error());
  if (smooth->empty()) return Climb{};
  Climb climb = between_turning_points(*smooth, method.hysteresis.in(metre));
  add_steepness(*smooth, climb);
  return climb;
}

Result<Length> height_noise(const std::vector<ProfilePoint>& profile) {
  if (auto error = profile_problem(profile)) return std::unexpected(*error);
  if (profile.size() < 5) return Length{};
  std::vector<double> differences;
  for (std::size_t i = 1; i + 1 < profile.size(); ++i) {
    const Length width = profile[i + 1].along - profile[i - 1].along;
    if (!(width > Length{})) continue;
    const double share = (profile[i].along - profile[i - 1].along) / width;
    const double line = std::lerp(profile[i - 1].elevation.in(metre),
                                  profile[i + 1].elevation.in(metre), share);
    differences.push_back(std::fabs(profile[i].elevation.in(metre) - line) /
                          std::sqrt(1 + share * share + (1 - share) * (1 - share)));
  }
  if (differences.empty()) return Length{};
  const auto middle = differences.begin() + static_cast<std::ptrdiff_t>(differences.size() / 2);
  std::nth_element(differences.begin(), middle, differences.end());
  return kDeviationPerMedian * *middle * metre;
}

Result<ClimbMethod> method_for_noise(const std::vector<ProfilePoint>& profile) {
  const auto noise = height_noise(profile);
  if (!noise) return std::unexpected(noise.error());
  ClimbMethod method;
  if (profile.size() < 2) return method;
  const Length way = profile.back().along - profile.front().along;
  const Length apart =
      std::max(method.spacing, way / static_cast<double>(profile.size() - 1));
  const auto left = [&] { return *noise / std::sqrt(std::max(1.0, method.window / apart)); };
  const double over = kCountedOverNoise * left() / kMostHysteresis;
  if (over > 1) method.window = std::min(kWidestWindow, method.window * (over * over));
  method.hysteresis = std::clamp(kCountedOverNoise * left(), kLeastHysteresis, 50 * metre);
  return method;
}

Climb raw_climb(const std::vector<ProfilePoint>& profile) {
  Climb climb;
  for (std::size_t i = 1; i < profile.size(); ++i) {
    const Length change = profile[i].elevation - profile[i - 1].elevation;
    if (change > Length{}) climb.up += change;
    if (change < Length{}) climb.down -= change;
  }
  return climb;
}

}  // namespace rollwright::mech
