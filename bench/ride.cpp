// Odds to come home over an invented recording of 10,000 points, one a second: how quick they are,
// and whether the energy of every draw adds up; and over the demo's ridge route.
//
//   bench_ride [--data DIR]
//
// The second route is data/demo/routes/ridge.gpx; DIR (reference data) is accepted and not needed.

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <numbers>
#include <string>

#include "base/random.hpp"
#include "base/text.hpp"
#include "mech/ride_odds.hpp"
#include "mech/route.hpp"

namespace {

using namespace rollwright;

constexpr double kMostBalanceError = 1e-9;
constexpr double kMostSeconds = 0.5;
constexpr int kPoints = 10'000;
constexpr int kDraws = 1000;
constexpr int kDemoDraws = 2000;

int failed(const Error& error) {
  fmt::print(stderr, "bench_ride: {}\n", error.full());
  return 2;
}

/// A second's ride apart at 20 km/h over hills of 40 and 15 m, heights off by 1.5 m that wander.
mech::Route invented_recording() {
  Random random(5);
  mech::Route route{.name = "invented", .segments = {{}}};
  double height_error = 0;
  double heading = 0;
  double north = 47;
  double east = 9;
  for (int i = 0; i < kPoints; ++i) {
    constexpr double kStep = 5.6;  // m
    const double along = kStep * i;
    heading += 0.02 * random.normal();
    north += kStep * std::cos(heading) / 111'200;
    east += kStep * std::sin(heading) / (111'200 * std::cos(north * std::numbers::pi / 180));
    height_error = 0.97 * height_error + 0.37 * random.normal();
    const double height =
        500 + 40 * std::sin(along / 900) + 15 * std::sin(along / 260) + height_error;
    route.segments[0].push_back({north, east, height * metre, i + 1});
  }
  return route;
}

Result<mech::Route> demo_route() {
  const std::string path = std::string(ROLLWRIGHT_ROOT) + "/data/demo/routes/ridge.gpx";
  const auto text = read_file(path);
  if (!text) return std::unexpected(text.error());
  const auto routes = mech::read_gpx(*text, path);
  if (!routes) return std::unexpected(routes.error());
  return routes->front();
}

/// An invented pedelec and rider.
Result<mech::OddsAsked> invented_ride() {
  const auto law = mech::assist_law("eu-pedelec");
  if (!law) return std::unexpected(law.error());
  const auto motor = mech::motor_by_print({.place = mech::MotorPlace::kCranks,
                                           .most = 500 * watt,
                                           .support = 1.5,
                                           .most_torque = 60 * newton_metre,
                                           .free_turns_per_min = 130,
                                           .supply = 36 * volt});
  if (!motor) return std::unexpected(motor.error());
  mech::OddsAsked asked;
  asked.ride = {.bike = {.road = {.whole = 108 * kg, .drag_area_m2 = 0.55}, .motor = *motor},
                .rider = {.power = {110 * watt, 0.2}},
                .law = *law,
                .weather = {.air = {.temperature_c = 12},
                            .wind = {.at_ten_metres = 4 * metre_per_second, .from_deg = 250}}};
  asked.battery = {.printed = 400 * watt_hour, .health = 0.9};
  asked.draws = kDemoDraws;
  return asked;
}

void tell(const mech::RideWay& way, const mech::RideOdds& odds) {
  fmt::print("{:.1f} km in {} pieces: home {:.3f} ({:.3f} to {:.3f}); left {:.0f} / {:.0f} / "
             "{:.0f} Wh, time {:.0f} / {:.0f} / {:.0f} min\n",
             way.length.in(km), way.pieces.size(), odds.home, odds.home_least, odds.home_most,
             odds.left.low.in(watt_hour), odds.left.middle.in(watt_hour),
             odds.left.high.in(watt_hour), odds.seconds.low / 60, odds.seconds.middle / 60,
             odds.seconds.high / 60);
  if (!odds.empty_at) return;
  fmt::print("runs out in {} draws, at {:.1f} / {:.1f} / {:.1f} km\n", odds.empty,
             odds.empty_at->low.in(km), odds.empty_at->middle.in(km), odds.empty_at->high.in(km));
}

struct Timed {
  std::size_t pieces = 0;
  mech::RideOdds odds;
  double seconds = 0;
};

/// From the points to the odds; one thread.
Result<Timed> timed(const mech::Route& route, const mech::OddsAsked& asked) {
  const auto start = std::chrono::steady_clock::now();
  const auto way = mech::ride_way(route);
  if (!way) return std::unexpected(way.error());
  auto odds = mech::ride_odds(*way, asked);
  if (!odds) return std::unexpected(odds.error());
  const std::chrono::duration<double> took = std::chrono::steady_clock::now() - start;
  tell(*way, *odds);
  return Timed{way->pieces.size(), *std::move(odds), took.count()};
}

}  // namespace

int main() {
  auto asked = invented_ride();
  if (!asked) return failed(asked.error());
  const auto ridge = demo_route();
  if (!ridge) return failed(ridge.error());
  const auto demo = timed(*ridge, *asked);
  if (!demo) return failed(demo.error());
  asked->draws = kDraws;
  const auto found = timed(invented_recording(), *asked);
  if (!found) return failed(found.error());
  const double error =
      std::max(demo->odds.worst_balance_error, found->odds.worst_balance_error);
  const bool holds = error <= kMostBalanceError && found->seconds <= kMostSeconds;
  fmt::print("the ridge: {} draws over {} pieces in {:.3f} s\n", kDemoDraws, demo->pieces,
             demo->seconds);
  fmt::print("{{\"name\":\"ride\",\"holds\":{},\"figures\":{{\"points\":{},\"draws\":{},"
             "\"seconds\":{:.4f},\"pieces\":{},\"piece_draws_per_second\":{:.0f},"
             "\"home\":{:.4f},\"energy_balance_error\":{:.3g}}}}}\n",
             holds, kPoints, kDraws, found->seconds, found->pieces,
             static_cast<double>(found->pieces) * kDraws / found->seconds, found->odds.home, error);
  return holds ? 0 : 1;
}
