#include "mech/trials/reference_wheel.hpp"

#include <cmath>
#include <numbers>

namespace rollwright::mech::trials {

RimSection ring(const Ring& ring) {
  return {.radius = ring.radius_m * metre,
          .bending_radial = ring.radial,
          .bending_lateral = ring.lateral,
          .torsion = ring.torsion,
          .rigidity = 69e9 * 100e-6 * newton};
}

RimSection reference_rim() {
  RimSection rim = ring({0.304, 111, 219, 26.3});
  rim.rigidity = 69e9 * 104e-6 * newton;
  return rim;
}

std::vector<WheelSpoke> radial_spokes(const RadialWheel& wheel) {
  const double reach = wheel.radius_m - wheel.hub_radius_m;
  const double path = std::hypot(reach, wheel.half_width_m);
  std::vector<WheelSpoke> spokes;
  for (int i = 0; i < wheel.spokes; ++i) {
    const double side = i % 2 == 0 ? 1 : -1;
    spokes.push_back({.at = 360.0 * i / wheel.spokes * degree,
                      .end = i % 2 == 0 ? WheelEnd::kLeft : WheelEnd::kRight,
                      .lateral = side * wheel.half_width_m / path,
                      .radial = reach / path,
                      .tangential = 0,
                      .path = path * metre,
                      .rigidity = wheel.rigidity,
                      .tension = wheel.tension});
  }
  return spokes;
}

std::vector<WheelSpoke> reference_spokes(Force tension, double spacing_m) {
  return radial_spokes({.radius_m = 0.304,
                        .hub_radius_m = 0.029,
                        .half_width_m = spacing_m / 2,
                        .spokes = 36,
                        .rigidity = 522e3 * newton,
                        .tension = tension});
}

SmearedWheel reference_bed(Force tension, double spacing_m) {
  return *smeared(reference_rim(), reference_spokes(tension, spacing_m), kTheory);
}

WheelModel reference_model(Force tension, int waves) {
  return *WheelModel::of(reference_rim(), reference_spokes(tension),
                         {.elbow_factor = kTheory, .waves = waves});
}

SmearedWheel on_bed(const RimSection& rim, double ks_n_per_mm) {
  SmearedWheel wheel{.rim = rim};
  wheel.lateral = ks_n_per_mm * 1000 / (std::numbers::pi * rim.radius.in(metre));
  wheel.lateral_slack = wheel.lateral;
  return wheel;
}

LacedWheel dished_rear() {
  return {.left = {.flange = {.circle = 45 * mm, .offset = 37 * mm, .holes = 16, .crosses = 3},
                   .rigidity = 521.9e3 * newton,
                   .tension = 538.3 * newton},
          .right = {.flange = {.circle = 45 * mm, .offset = 18 * mm, .holes = 16, .crosses = 3},
                    .rigidity = 521.9e3 * newton,
                    .tension = 1100 * newton},
          .nipple_circle = 608 * mm};
}

std::vector<NamedWheel> illustrative_wheels() {
  struct Row {
    const char* name;
    Ring ring;
    double flange_circle_mm, width_mm;
    int spokes;
    double wire_mm, buckling_n;
    int waves;
    double lateral;
  };
  const Row rows[] = {
      {"high wheel", {0.6, 300, 300, 100}, 50, 90, 64, 2.5, 1278, 3, 91.5},
      {"old road wheel", {0.315, 150, 150, 15}, 50, 50, 36, 1.8, 1528, 3, 81.0},
      {"road wheel", {0.3, 200, 200, 80}, 50, 50, 24, 1.8, 2668, 2, 79.2},
      {"plain mountain wheel", {0.28, 200, 200, 12}, 50, 60, 32, 2.0, 2619, 3, 171.6},
      {"tandem wheel", {0.3, 200, 200, 80}, 50, 70, 40, 2.0, 3602, 3, 241.6},
      {"small wheel", {0.225, 150, 150, 40}, 50, 50, 32, 1.8, 3987, 2, 234.4},
      {"track wheel", {0.3, 200, 200, 150}, 50, 60, 32, 1.8, 3249, 2, 137.2},
  };
  std::vector<NamedWheel> wheels;
  for (const Row& row : rows) {
    const double area = std::numbers::pi / 4 * row.wire_mm * row.wire_mm;
    wheels.push_back({.name = row.name,
                      .rim = ring(row.ring),
                      .spokes = {.radius_m = row.ring.radius_m,
                                 .hub_radius_m = row.flange_circle_mm / 2000,
                                 .half_width_m = row.width_mm / 2000,
                                 .spokes = row.spokes,
                                 .rigidity = 200e3 * area * newton},
                      .buckling_n = row.buckling_n,
                      .waves = row.waves,
                      .lateral = row.lateral});
  }
  return wheels;
}

}  // namespace rollwright::mech::trials
