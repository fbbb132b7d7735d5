#include "mech/rotor_heat.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "mech/field_range.hpp"
#include "mech/gravity.hpp"

namespace rollwright::mech {
namespace {

constexpr double kStefanBoltzmann = 5.670374419e-8;  // W/(m^2 K^4), exact by the SI
constexpr double kZeroCelsius = 273.15;              // K
constexpr double kMostStep = 0.5;                    // s
constexpr double kMostSeconds = 6 * 3600;

std::optional<Error> rotor_problem(const Rotor& rotor, double air_c) {
  return first_outside({{"mass of the rotor", rotor.mass.in(gram), 20, 3000, "g"},
                        {"specific heat", rotor.heat_j_per_kg_k, 300, 1000, "J/(kg K)"},
                        {"area of the rotor", rotor.area_m2, 0.002, 0.5, "m²"},
                        {"emissivity", rotor.emissivity, 0, 1, ""},
                        {"still air", rotor.air_still_w_per_m2_k, 0, 200, "W/(m² K)"},
                        {"moving air", rotor.air_per_mps_w_per_m2_k, 0, 50, "W/(m² K)"},
                        {"temperature to warn at", rotor.warn_at_c, 60, 800, "°C"},
                        {"air temperature", air_c, -40, 60, "°C"}});
}

std::optional<Error> descent_problem(const DescendingBike& bike, const DescentPiece& piece) {
  return first_outside({{"whole mass", bike.whole.in(kg), 20, 500, "kg"},
                        {"drag area", bike.drag_area_m2, 0.1, 2, "m²"},
                        {"rolling resistance", bike.rolling, 0, 0.1, ""},
                        {"air density", bike.density_kg_per_m3, 0.8, 1.5, "kg/m³"},
                        {"share of this rotor", bike.share, 0, 1, ""},
                        {"length of a piece", piece.length.in(metre), 1e-3, 100000, "m"},
                        {"slope", piece.slope, -0.4, 0.4, ""},
                        {"speed", piece.speed.in(km_per_hour), 1, 100, "km/h"}});
}

/// Heat that leaves a rotor at `rotor_c`, in W.
double shed_w(const Rotor& rotor, double speed_mps, double air_c, double rotor_c) {
  const double h = rotor.air_still_w_per_m2_k + rotor.air_per_mps_w_per_m2_k * speed_mps;
  const double radiated = std::pow(rotor_c + kZeroCelsius, 4) - std::pow(air_c + kZeroCelsius, 4);
  return rotor.area_m2 * (h * (rotor_c - air_c) + rotor.emissivity * kStefanBoltzmann * radiated);
}

struct RotorRun {
  const Rotor& rotor;
  double air_c;
  double joules_per_k;
  RotorWay way = {};
  RotorMoment now = {};
  double heated_j = 0;
  double shed_j = 0;

  void tell() {
    way.moments.push_back(now);
    way.hottest_c = std::max(way.hottest_c, now.temperature_c);
    if (!way.too_hot && now.temperature_c > rotor.warn_at_c) way.too_hot = now;
  }

  void heat_at_once(double joules) {
    now.temperature_c += joules / joules_per_k;
    heated_j += joules;
  }

  void step(double watts, double speed_mps, double seconds) {
    const auto shed = [&](double at) { return shed_w(rotor, speed_mps, air_c, at); };
    const double start = now.temperature_c;
    const double half = seconds / 2 / joules_per_k;
    const double one = shed(start);
    const double two = shed(start + half * (watts - one));
    const double three = shed(start + half * (watts - two));
    const double four = shed(start + 2 * half * (watts - three));
    const double lost = (one + 2 * two + 2 * three + four) / 6 * seconds;
    now.temperature_c = start + (watts * seconds - lost) / joules_per_k;
    heated_j += watts * seconds;
    shed_j += lost;
    now.seconds += seconds;
    now.way += speed_mps * seconds * metre;
    now.heating = watts * watt;
  }
};

void go(RotorRun& run, const DescentPiece& piece, double watts) {
  const double speed_mps = piece.speed.in(metre_per_second);
  const double seconds = piece.length.in(metre) / speed_mps;
  const int steps = std::max(1, static_cast<int>(std::ceil(seconds / kMostStep)));
  for (int i = 0; i < steps; ++i) {
    run.step(watts, speed_mps, seconds / steps);
    if (i % 2 == 1 || i + 1 == steps) run.tell();
  }
}

}  // namespace

Result<BrakingPower> braking_power(const DescendingBike& bike, const DescentPiece& piece) {
  if (auto error = descent_problem(bike, piece)) return std::unexpected(*error);
  const double v = piece.speed.in(metre_per_second);
  const double weight = bike.whole.in(kg) * kGravity;
  const double sine = -piece.slope / std::hypot(1, piece.slope);
  const double cosine = 1 / std::hypot(1, piece.slope);
  const double air = 0.5 * bike.density_kg_per_m3 * bike.drag_area_m2 * v * v * v;
  const double rest = weight * sine * v - air - bike.rolling * weight * cosine * v;
  return BrakingPower{weight * sine * v * watt, std::max(0.0, rest) * watt};
}

Result<RotorWay> rotor_way(const Rotor& rotor, const DescendingBike& bike,
                           const std::vector<DescentPiece>& way, double air_c) {
  if (auto error = rotor_problem(rotor, air_c)) return std::unexpected(*error);
  if (auto error = first_outside(
          {{"pieces of the way", static_cast<double>(way.size()), 1, 1e6, ""}})) {
    return std::unexpected(*error);
  }
  RotorRun run{rotor, air_c, rotor.mass.in(kg) * rotor.heat_j_per_kg_k};
  run.now.temperature_c = air_c;
  run.way.hottest_c = air_c;
  run.tell();
  for (std::size_t i = 0; i < way.size(); ++i) {
    const auto power = braking_power(bike, way[i]);
    if (!power) return std::unexpected(power.error());
    if (run.now.seconds + way[i].length.in(metre) / way[i].speed.in(metre_per_second) >
        kMostSeconds) {
      return refuse(Code::kTooLarge, "The way takes more than six hours; give the descent alone.");
    }
    go(run, way[i], bike.share * power->brakes.in(watt));
    if (i + 1 == way.size() || way[i + 1].speed >= way[i].speed) continue;
    const double before = way[i].speed.in(metre_per_second);
    const double after = way[i + 1].speed.in(metre_per_second);
    run.heat_at_once(bike.share * bike.whole.in(kg) / 2 * (before * before - after * after));
    run.tell();
  }
  run.way.heated = run.heated_j * joule;
  run.way.shed = run.shed_j * joule;
  return run.way;
}

Result<double> steady_rotor_c(const Rotor& rotor, Power heating, Speed speed, double air_c) {
  if (auto error = rotor_problem(rotor, air_c)) return std::unexpected(*error);
  if (auto error = first_outside({{"heating", heating.in(watt), 0, 5000, "W"},
                                  {"speed", speed.in(km_per_hour), 0, 100, "km/h"}})) {
    return std::unexpected(*error);
  }
  double low = air_c;
  double high = 5000;
  if (shed_w(rotor, speed.in(metre_per_second), air_c, high) < heating.in(watt)) {
    return refuse(Code::kOutOfRange,
                  "This rotor sheds no such heat at any temperature it could stand; its air and "
                  "emissivity are too small.",
                  {.field = "heating"});
  }
  for (int i = 0; i < 80; ++i) {
    const double middle = (low + high) / 2;
    (shed_w(rotor, speed.in(metre_per_second), air_c, middle) < heating.in(watt) ? low : high) =
        middle;
  }
  return (low + high) / 2;
}

Result<double> rotor_rise_k(const Rotor& rotor, Energy heat) {
  if (auto error = rotor_problem(rotor, 20)) return std::unexpected(*error);
  if (auto error = first_outside({{"heat", heat.in(joule), 0, 1e6, "J"}})) {
    return std::unexpected(*error);
  }
  return heat.in(joule) / (rotor.mass.in(kg) * rotor.heat_j_per_kg_k);
}

}  // namespace rollwright::mech
