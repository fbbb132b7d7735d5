// Odds to come home over the demo's ridge route: how quick they are, and whether the energy of
// every draw adds up.
//
//   bench_ride [--data DIR]
//
// The route is data/demo/routes/ridge.gpx, so DIR (reference data) is accepted and not needed.

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <string>

#include "base/text.hpp"
#include "mech/ride_odds.hpp"
#include "mech/route.hpp"

namespace {

using namespace rollwright;

constexpr double kMostBalanceError = 1e-9;
constexpr int kDraws = 2000;

int failed(const Error& error) {
  fmt::print(stderr, "bench_ride: {}\n", error.full());
  return 2;
}

Result<mech::RideWay> demo_way() {
  const std::string path = std::string(ROLLWRIGHT_ROOT) + "/data/demo/routes/ridge.gpx";
  const auto text = read_file(path);
  if (!text) return std::unexpected(text.error());
  const auto routes = mech::read_gpx(*text, path);
  if (!routes) return std::unexpected(routes.error());
  return mech::ride_way(routes->front());
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
  asked.draws = kDraws;
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

}  // namespace

int main() {
  const auto way = demo_way();
  if (!way) return failed(way.error());
  const auto asked = invented_ride();
  if (!asked) return failed(asked.error());
  const auto start = std::chrono::steady_clock::now();
  const auto odds = mech::ride_odds(*way, *asked);
  const std::chrono::duration<double> took = std::chrono::steady_clock::now() - start;
  if (!odds) return failed(odds.error());
  tell(*way, *odds);
  const auto points = static_cast<double>(way->pieces.size());
  const double error = odds->worst_balance_error;
  const bool holds = error <= kMostBalanceError;
  fmt::print("{{\"name\":\"ride\",\"holds\":{},\"figures\":{{\"points\":{},\"draws\":{},"
             "\"seconds\":{:.4f},\"point_draws_per_second\":{:.0f},\"home\":{:.4f},"
             "\"energy_balance_error\":{:.3g}}}}}\n",
             holds, way->pieces.size(), odds->draws, took.count(),
             points * odds->draws / took.count(), odds->home, error);
  return holds ? 0 : 1;
}
