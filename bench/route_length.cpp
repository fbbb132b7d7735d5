// Length of a recorded ride by our own geodesic against a second program (GeographicLib).
//
//   bench_route_length [--data DIR]
//
// DIR holds reference/routes/cerknicko-jezero.gpx. Without the option it is the environment's
// ROLLWRIGHT_SHARED, else the folder `shared` beside the repository.

#include <fmt/format.h>

#include <GeographicLib/Geodesic.hpp>
#include <cmath>
#include <cstdlib>
#include <string>

#include "base/text.hpp"
#include "mech/route.hpp"

namespace {

using rollwright::Error;
using rollwright::mech::Route;

constexpr double kMostRelative = 1e-6;

double reference_metres(const Route& route) {
  double sum = 0;
  for (const auto& segment : route.segments) {
    for (std::size_t i = 1; i < segment.size(); ++i) {
      double step = 0;
      GeographicLib::Geodesic::WGS84().Inverse(
          segment[i - 1].latitude_deg, segment[i - 1].longitude_deg, segment[i].latitude_deg,
          segment[i].longitude_deg, step);
      sum += step;
    }
  }
  return sum;
}

std::string data_folder(int argc, char** argv) {
  for (int i = 1; i + 1 < argc; ++i) {
    if (std::string(argv[i]) == "--data") return argv[i + 1];
  }
  if (const char* given = std::getenv("ROLLWRIGHT_SHARED")) return given;
  return std::string(ROLLWRIGHT_ROOT) + "/../shared";
}

int failed(const Error& error) {
  fmt::print(stderr, "bench_route_length: {}\n", error.full());
  return 2;
}

}  // namespace

int main(int argc, char** argv) {
  const std::string path = data_folder(argc, argv) + "/reference/routes/cerknicko-jezero.gpx";
  const auto text = rollwright::read_file(path);
  if (!text) return failed(text.error());
  const auto routes = rollwright::mech::read_gpx(*text, path);
  if (!routes) return failed(routes.error());
  double ours = 0;
  double reference = 0;
  for (const Route& route : *routes) {
    const auto figures = rollwright::mech::figures_of(route);
    if (!figures) return failed(figures.error());
    ours += figures->length.in(rollwright::metre);
    reference += reference_metres(route);
    fmt::print("{}: {} points, {} gaps, {:.3f} m", route.name, figures->points, figures->gaps,
               figures->length.in(rollwright::metre));
    if (figures->climb) fmt::print(", climb {:.0f} m", figures->climb->up.in(rollwright::metre));
    fmt::print("\n");
  }
  const bool holds = reference > 0 && std::fabs(ours - reference) / reference < kMostRelative;
  fmt::print(
      "{{\"name\":\"route-length\",\"holds\":{},\"figures\":{{\"ours_m\":{:.6f},"
      "\"reference_m\":{:.6f}}}}}\n",
      holds, ours, reference);
  return holds ? 0 : 1;
}
