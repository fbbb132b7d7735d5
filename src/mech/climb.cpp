#include "mech/climb.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "mech/field_range.hpp"

namespace rollwright::mech {
namespace {

constexpr std::size_t kMostSamples = 5'000'000;

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

Climb between_turning_points(const std::vector<double>& heights, double hysteresis) {
  double up = 0;
  double down = 0;
  const auto count = [&up, &down](double change) { (change > 0 ? up : down) += std::fabs(change); };
  double turn = heights.front();     // the last turning point
  double extreme = heights.front();  // farthest from it in the present direction
  int direction = 0;                 // 0 until the first change reaches the hysteresis
  double lowest = turn;
  double highest = turn;
  for (const double height : heights) {
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

double steepest_of(const std::vector<double>& heights, double step_metres) {
  double steepest = 0;
  if (!(step_metres > 0)) return steepest;
  for (std::size_t i = 1; i < heights.size(); ++i) {
    steepest = std::max(steepest, std::fabs(heights[i] - heights[i - 1]) / step_metres);
  }
  return steepest;
}

}  // namespace

Result<Climb> climb_of(const std::vector<ProfilePoint>& profile, const ClimbMethod& method) {
  if (auto error = method_problem(method)) return std::unexpected(*error);
  if (auto error = profile_problem(profile)) return std::unexpected(*error);
  if (profile.size() < 2) return Climb{};
  const Length way = profile.back().along - profile.front().along;
  const double steps = std::ceil(way / method.spacing);
  if (!(steps < static_cast<double>(kMostSamples))) {
    return refuse(Code::kTooLarge,
                  fmt::format("The way of {:.0f} km makes more than {} samples; take a wider "
                              "spacing.",
                              way.in(km), kMostSamples),
                  {.field = "sample spacing"});
  }
  const auto samples = even_samples(profile, static_cast<std::size_t>(std::max(1.0, steps)) + 1);
  const auto half = static_cast<std::size_t>(method.window / method.spacing / 2);
  const auto smooth = running_mean(running_median(samples, method.median_points), half);
  Climb climb = between_turning_points(smooth, method.hysteresis.in(metre));
  climb.steepest = steepest_of(smooth, way.in(metre) / static_cast<double>(samples.size() - 1));
  return climb;
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
