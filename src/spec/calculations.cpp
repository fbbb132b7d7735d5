#include "spec/calculations.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "mech/belt.hpp"

namespace rollwright::spec {

namespace {

/// Teeth are whole numbers; files hold them as numbers like everything else.
int whole(double number) { return static_cast<int>(std::lround(number)); }

Result<double> belt_centre_distance(std::span<const double> a) {
  const mech::BeltDrive drive{.front = whole(a[0]), .rear = whole(a[1]), .pitch = a[3] * mm};
  const Result<mech::BeltRun> run = mech::belt_run(drive, whole(a[2]));
  if (!run) return std::unexpected(run.error());
  return run->centre_distance.in(mm);
}

Result<double> primary_ratio(std::span<const double> teeth) {
  if (!(teeth[1] > 0)) return refuse(Code::kOutOfRange, "a sprocket has at least one tooth");
  return teeth[0] / teeth[1];
}

/// What a derailleur must be able to take up: the span of the cogs and the span of the rings.
Result<double> derailleur_capacity(std::span<const double> teeth) {
  return (teeth[0] - teeth[1]) + (teeth[2] - teeth[3]);
}

/// Everything that is stacked on the fork's steerer, from the crown to the top of the stem.
Result<double> steerer_needed(std::span<const double> heights) {
  return std::accumulate(heights.begin(), heights.end(), 0.0);
}

}  // namespace

const std::vector<Calculation>& calculations() {
  static const std::vector<Calculation> kRows = {
      {"belt_centre_distance_mm", belt_centre_distance},
      {"primary_ratio", primary_ratio},
      {"derailleur_capacity", derailleur_capacity},
      {"steerer_needed_mm", steerer_needed},
  };
  return kRows;
}

const Calculation* find_calculation(std::string_view name) {
  const auto& rows = calculations();
  const auto found = std::ranges::find(rows, name, &Calculation::name);
  return found == rows.end() ? nullptr : &*found;
}

}  // namespace rollwright::spec
