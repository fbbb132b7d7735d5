// Belts that fit a frame, a shelf and a hub, beside a second opinion.
//
//   bench_belts [--data DIR] [--frames N]
//
// The frames are invented, so DIR (reference data) is accepted and not needed. The second opinion
// shares no formula with the engine: it walks around the two pulleys, adds up the straight pieces
// of the outline's hull, and finds the centre distance by bisection, in plain loops.

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <chrono>
#include <cmath>
#include <map>
#include <numbers>
#include <string>
#include <tuple>
#include <vector>

#include "base/random.hpp"
#include "mech/belt_gears.hpp"

namespace {

using namespace rollwright;

constexpr double kTooNearToJudgeMm = 1e-3;  // of a limit: the polygon is that rough
constexpr double kMostCentreErrorMm = 1e-3;

struct Point {
  double x, y;
};

double turn(const Point& o, const Point& a, const Point& b) {
  return (a.x - o.x) * (b.y - o.y) - (a.y - o.y) * (b.x - o.x);
}

/// Length of a taut band around points, by the hull of their upper half, twice.
double band_around(std::vector<Point> points) {
  std::sort(points.begin(), points.end(),
            [](const Point& a, const Point& b) { return a.x < b.x || (a.x == b.x && a.y < b.y); });
  std::vector<Point> hull;
  for (const Point& point : points) {
    while (hull.size() >= 2 && turn(hull[hull.size() - 2], hull.back(), point) >= 0) {
      hull.pop_back();
    }
    hull.push_back(point);
  }
  double length = 0;
  for (std::size_t i = 1; i < hull.size(); ++i) {
    length += std::hypot(hull[i].x - hull[i - 1].x, hull[i].y - hull[i - 1].y);
  }
  return 2 * length;
}

/// Band around two circles, each a polygon of many corners.
double band_length(double front_radius, double rear_radius, double centre) {
  constexpr int kCorners = 6000;
  std::vector<Point> points;
  for (int i = 0; i <= kCorners; ++i) {
    const double angle = std::numbers::pi * i / kCorners;
    const double c = std::cos(angle), s = std::max(0.0, std::sin(angle));
    points.push_back({front_radius * c, front_radius * s});
    points.push_back({centre + rear_radius * c, rear_radius * s});
  }
  return band_around(points);
}

/// Radius of a pulley whose way around is its teeth times the pitch.
double radius_of(int teeth, double pitch) { return teeth * pitch / (2 * std::numbers::pi); }

/// Centre distance in mm, or nothing when the band does not go around. Bisection ends in steps of
/// 1e-6 mm; the two circles' radii differ far less than they are apart.
double centre_by_walking(int front, int rear, double length, double pitch) {
  const double a = radius_of(front, pitch), b = radius_of(rear, pitch);
  double low = a + b, high = 1500;
  if (band_length(a, b, low) > length) return 0;
  while (high - low > 1e-6) {
    const double middle = (low + high) / 2;
    (band_length(a, b, middle) < length ? low : high) = middle;
  }
  return (low + high) / 2;
}

/// Centre distances already walked, as they do not depend on the frame.
using Walked = std::map<std::tuple<int, int, double>, double>;
double walked_centre(Walked& walked, int front, int rear, double length, double pitch) {
  const auto key = std::make_tuple(front, rear, length);
  const auto found = walked.find(key);
  if (found != walked.end()) return found->second;
  return walked[key] = centre_by_walking(front, rear, length, pitch);
}

/// An invented frame, shelf and hub.
mech::BeltGearsAsked invented(Random& random) {
  const Length least = (405 + 30 * random.uniform()) * mm;
  mech::BeltGearsAsked asked{
      .belts = {.fronts = {39, 46, 50, 55, 60},
                .rears = {19, 20, 22, 24, 28},
                .belts = {106, 108, 111, 113, 115, 118, 120, 122, 125},
                .least_centre = least,
                .most_centre = least + (10 + 20 * random.uniform()) * mm,
                .room_to_tighten = (1 + 4 * random.uniform()) * mm},
      .wear_stretch = random.below(2) == 0 ? 0.001 : 0.004,
      .hub_ratios = {0.527, 0.644, 0.748, 0.851, 1.0, 1.223, 1.419, 1.615},
      .hub = {random.below(3) == 0 ? 0 : 1.6 + 0.9 * random.uniform(),
              random.below(3) == 0 ? Torque{} : (55 + 40 * random.uniform()) * newton_metre},
      .wheel = {716 * mm, 2250 * mm, 170 * mm},
      .lowest_wanted = (1.8 + random.uniform()) * metre,
      .highest_wanted = (6 + 3 * random.uniform()) * metre};
  return asked;
}

struct Compared {
  int combinations = 0;
  int fits = 0;
  int near = 0;  // to a limit, so that the polygon cannot judge
  int mismatches = 0;
  double worst_centre_mm = 0;
};

/// Whether the combination fits by the plain rules: 1 yes, 0 no, -1 too near to a limit to say.
int plain_fit(const mech::BeltGearsAsked& asked, int front, int rear, double centre, double worn) {
  if (centre == 0) return 0;
  const double least = asked.belts.least_centre.in(mm);
  const double most = asked.belts.most_centre.in(mm);
  const double room = asked.belts.room_to_tighten.in(mm);
  for (const double off : {centre - least, most - room - centre, most - worn}) {
    if (std::fabs(off) < kTooNearToJudgeMm) return -1;
  }
  if (centre < least || centre > most - room || worn > most) return 0;
  if (asked.hub.least_primary > 0 && front < asked.hub.least_primary * rear) return 0;
  const double limit = asked.hub.most_input.in(newton_metre);
  return !(limit > 0 && asked.crank_torque.in(newton_metre) * rear / front > limit);
}

const mech::BeltGears* fit_of(const mech::BeltGearsFound& found, int front, int rear, int belt) {
  for (const mech::BeltGears& gears : found.fits) {
    if (gears.fit.front == front && gears.fit.rear == rear && gears.fit.belt_teeth == belt) {
      return &gears;
    }
  }
  return nullptr;
}

void compare(const mech::BeltGearsAsked& asked, const mech::BeltGearsFound& found, Walked& walked,
             Compared& compared) {
  const double pitch = asked.belts.pitch.in(mm);
  for (const int front : asked.belts.fronts) {
    for (const int rear : asked.belts.rears) {
      for (const int belt : asked.belts.belts) {
        ++compared.combinations;
        const double length = belt * pitch;
        const double centre = walked_centre(walked, front, rear, length, pitch);
        const double worn =
            walked_centre(walked, front, rear, (1 + asked.wear_stretch) * length, pitch);
        const int expected = plain_fit(asked, front, rear, centre, worn);
        const mech::BeltGears* fit = fit_of(found, front, rear, belt);
        compared.fits += fit != nullptr;
        if (expected < 0) {
          ++compared.near;
          continue;
        }
        compared.mismatches += (fit != nullptr) != (expected == 1);
        if (fit == nullptr) continue;
        const double error = std::max(std::fabs(fit->fit.run.centre_distance.in(mm) - centre),
                                      std::fabs(fit->worn_centre.in(mm) - worn));
        compared.worst_centre_mm = std::max(compared.worst_centre_mm, error);
        compared.mismatches += error > kMostCentreErrorMm;
      }
    }
  }
  const std::size_t all =
      asked.belts.fronts.size() * asked.belts.rears.size() * asked.belts.belts.size();
  compared.mismatches += found.fits.size() + found.refused.size() != all;
}

}  // namespace

int main(int argc, char** argv) {
  CLI::App app("belts that fit, beside a second opinion");
  std::string data;
  int frames = 40;
  app.add_option("--data", data, "not needed here");
  app.add_option("--frames", frames)->check(CLI::Range(1, 10000));
  CLI11_PARSE(app, argc, argv);

  Compared compared;
  Walked walked;
  double engine_seconds = 0;
  for (int i = 0; i < frames; ++i) {
    Random random(static_cast<std::uint64_t>(500 + i));
    const mech::BeltGearsAsked asked = invented(random);
    const auto start = std::chrono::steady_clock::now();
    const auto found = mech::belt_gears(asked);
    engine_seconds +=
        std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
    if (!found) {
      fmt::print(stderr, "bench_belts: {}\n", found.error().full());
      return 2;
    }
    compare(asked, *found, walked, compared);
  }
  fmt::print("{} frames, {} combinations fit, {} too near to a limit to compare\n", frames,
             compared.fits, compared.near);
  const bool holds = compared.mismatches == 0 && compared.fits > 0;
  fmt::print("{{\"name\":\"belts\",\"holds\":{},\"figures\":{{\"combinations\":{},\"mismatches\":"
             "{},\"fits\":{},\"too_near\":{},\"worst_centre_mm\":{:.3g},\"seconds\":{:.4f}}}}}\n",
             holds, compared.combinations, compared.mismatches, compared.fits, compared.near,
             compared.worst_centre_mm, engine_seconds);
  return holds ? 0 : 1;
}
