#include "mech/chain.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/text.hpp"
#include "mech/field_range.hpp"

namespace rollwright::mech {
namespace {

constexpr Length kPitch = inch / 2;

double pitch_radius(int teeth) { return kPitch.in(mm) / (2 * std::sin(std::numbers::pi / teeth)); }

double touching(int front, int rear) { return pitch_radius(front) + pitch_radius(rear); }

double exact_links(int front, int rear, double centre) {
  const int large = std::max(front, rear);
  const int small = std::min(front, rear);
  const double tilt = std::asin((pitch_radius(large) - pitch_radius(small)) / centre);
  return 2 * centre * std::cos(tilt) / kPitch.in(mm) + large * (0.5 + tilt / std::numbers::pi) +
         small * (0.5 - tilt / std::numbers::pi);
}

double approximate_links(int front, int rear, double centre) {
  const double p = kPitch.in(mm);
  const double spread = (front - rear) / (2 * std::numbers::pi);
  return 2 * centre / p + (front + rear) / 2.0 + spread * spread * p / centre;
}

int even_up(double links) { return 2 * static_cast<int>(std::ceil(links / 2 - 1e-9)); }

std::optional<Error> teeth_problem(int front, int rear) {
  return first_outside({{"front teeth", static_cast<double>(front), 6, 130, ""},
                        {"rear teeth", static_cast<double>(rear), 6, 130, ""}});
}

std::optional<Error> drive_problem(const ChainDrive& drive) {
  if (auto error = teeth_problem(drive.front, drive.rear)) return error;
  const double centre = drive.centre_distance.in(mm);
  if (auto error = first_outside({{"centre distance", centre, 150, 1500, "mm"}})) return error;
  if (centre >= touching(drive.front, drive.rear)) return std::nullopt;
  return Error{
      Code::kContradiction,
      fmt::format("At a centre distance of {} mm the sprockets overlap.", rounded(centre, 2)),
      Place{.field = "centre distance"}};
}

}  // namespace

Result<ChainLinks> chain_links(const ChainDrive& drive) {
  if (auto error = drive_problem(drive)) return std::unexpected(*error);
  const double centre = drive.centre_distance.in(mm);
  const double exact = exact_links(drive.front, drive.rear, centre);
  return ChainLinks{exact, approximate_links(drive.front, drive.rear, centre), even_up(exact)};
}

Result<Length> chain_centre_distance(int front, int rear, int links) {
  if (auto error = teeth_problem(front, rear)) return std::unexpected(*error);
  if (auto error = first_outside({{"links", static_cast<double>(links), 20, 300, ""}})) {
    return std::unexpected(*error);
  }
  double low = touching(front, rear);
  double high = 3000;
  if (links < exact_links(front, rear, low)) {
    return refuse(Code::kContradiction,
                  fmt::format("{} links are too few to go around sprockets with {} and {} teeth.",
                              links, front, rear),
                  {.field = "links", .value = std::to_string(links)});
  }
  for (int i = 0; i < 100; ++i) {
    const double middle = (low + high) / 2;
    (exact_links(front, rear, middle) < links ? low : high) = middle;
  }
  return (low + high) / 2 * mm;
}

Result<std::vector<ChainFit>> chains_that_fit(const ChainSearch& search) {
  const auto shortest = chain_links({search.front, search.rear, search.least_centre});
  if (!shortest) return std::unexpected(shortest.error());
  if (auto error =
          first_outside({{"longest centre distance", search.most_centre.in(mm), 150, 1500, "mm"},
                         {"room to tighten", search.room_to_tighten.in(mm), 0, 30, "mm"}})) {
    return std::unexpected(*error);
  }
  const Length most = search.most_centre - search.room_to_tighten;
  if (most < search.least_centre) {
    return refuse(
        Code::kContradiction,
        fmt::format("The frame's range from {} to {} mm does not hold {} mm of room to "
                    "tighten.",
                    rounded(search.least_centre.in(mm), 2), rounded(search.most_centre.in(mm), 2),
                    rounded(search.room_to_tighten.in(mm), 2)),
        {.field = "room to tighten"});
  }
  std::vector<ChainFit> fits;
  const int step = search.half_links ? 1 : 2;
  const int first = static_cast<int>(std::ceil(shortest->exact - 1e-9));
  for (int links = search.half_links ? first : even_up(shortest->exact); links <= 300;
       links += step) {
    const auto centre = chain_centre_distance(search.front, search.rear, links);
    if (!centre) return std::unexpected(centre.error());
    if (*centre > most) break;
    fits.push_back({links, *centre, search.most_centre - *centre});
  }
  return fits;
}

Result<int> derailleur_chain_links(const ChainDrive& largest) {
  if (auto error = drive_problem(largest)) return std::unexpected(*error);
  const double inches =
      2 * largest.centre_distance.in(inch) + largest.front / 4.0 + largest.rear / 4.0 + 1;
  return 2 * static_cast<int>(std::ceil(inches - 1e-9));
}

Result<int> derailleur_capacity(const Teeth& teeth) {
  if (auto error = teeth_problem(teeth.front_most, teeth.rear_most)) {
    return std::unexpected(*error);
  }
  if (auto error = teeth_problem(teeth.front_least, teeth.rear_least)) {
    return std::unexpected(*error);
  }
  if (teeth.front_least > teeth.front_most || teeth.rear_least > teeth.rear_most) {
    return refuse(Code::kContradiction,
                  "The smallest sprocket has more teeth than the largest; swap the two numbers.",
                  {.field = "teeth"});
  }
  return teeth.front_most - teeth.front_least + teeth.rear_most - teeth.rear_least;
}

Result<double> chain_wear(Length measured, int pitches) {
  if (auto error = first_outside({{"pitches", static_cast<double>(pitches), 2, 200, ""}})) {
    return std::unexpected(*error);
  }
  const double wear = measured / (pitches * kPitch) - 1;
  if (auto error = first_outside({{"elongation", wear * 100, -1, 3, "%"}})) {
    return std::unexpected(*error);
  }
  return wear;
}

Length worn_chain_length(int pitches, double share) { return (1 + share) * (pitches * kPitch); }

}  // namespace rollwright::mech
