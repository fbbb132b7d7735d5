#include "mech/belt.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/text.hpp"
#include "mech/field_range.hpp"

namespace rollwright::mech {
namespace {

constexpr double kLongestCentre = 3000;  // mm; far beyond any bicycle, so that bisection ends

std::optional<Error> drive_problem(const BeltDrive& drive) {
  return first_outside({{"front teeth", static_cast<double>(drive.front), 10, 130, ""},
                        {"rear teeth", static_cast<double>(drive.rear), 10, 130, ""},
                        {"belt pitch", drive.pitch.in(mm), 2, 20, "mm"}});
}

double radius_difference(const BeltDrive& drive) {
  return std::abs(drive.front - drive.rear) * drive.pitch.in(mm) / (2 * std::numbers::pi);
}

/// The centre distance at which the pitch circles touch.
double touching(const BeltDrive& drive) {
  return (drive.front + drive.rear) * drive.pitch.in(mm) / (2 * std::numbers::pi);
}

double length_at(const BeltDrive& drive, double centre) {
  const double tilt = std::asin(radius_difference(drive) / centre);
  const int large = std::max(drive.front, drive.rear);
  const int small = std::min(drive.front, drive.rear);
  return 2 * centre * std::cos(tilt) +
         drive.pitch.in(mm) * (large * (0.5 + tilt / std::numbers::pi) + small * (0.5 - tilt / std::numbers::pi));
}

double centre_at(const BeltDrive& drive, double length) {
  double low = touching(drive);
  double high = kLongestCentre;
  for (int i = 0; i < 100; ++i) {
    const double middle = (low + high) / 2;
    (length_at(drive, middle) < length ? low : high) = middle;
  }
  return (low + high) / 2;
}

double catalogue_centre(const BeltDrive& drive, double length) {
  const double sum = 2 * touching(drive);
  const double difference = 2 * radius_difference(drive);
  const double k = 4 * length - 2 * std::numbers::pi * sum;
  return (k + std::sqrt(k * k - 32 * difference * difference)) / 16;
}

std::optional<Error> search_problem(const BeltSearch& search) {
  if (auto error =
          first_outside({{"front pulleys", static_cast<double>(search.fronts.size()), 1, 100, ""},
                         {"rear pulleys", static_cast<double>(search.rears.size()), 1, 100, ""},
                         {"belts", static_cast<double>(search.belts.size()), 1, 100, ""},
                         {"shortest centre distance", search.least_centre.in(mm), 200, 800, "mm"},
                         {"longest centre distance", search.most_centre.in(mm), 200, 800, "mm"},
                         {"room to tighten", search.room_to_tighten.in(mm), 0, 30, "mm"},
                         {"wanted ratio", search.wanted_ratio, 0, 10, ""}})) {
    return error;
  }
  if (search.least_centre <= search.most_centre - search.room_to_tighten) return std::nullopt;
  return Error{
      Code::kContradiction,
      fmt::format("The frame's range from {} to {} mm does not hold {} mm of room to "
                  "tighten.",
                  rounded(search.least_centre.in(mm), 2), rounded(search.most_centre.in(mm), 2),
                  rounded(search.room_to_tighten.in(mm), 2)),
      Place{.field = "room to tighten"}};
}

/// Distance of two ratios on the scale a rider feels; 0 when no ratio is wanted.
double off_ratio(const BeltSearch& search, double ratio) {
  return search.wanted_ratio > 0 ? std::fabs(std::log(ratio / search.wanted_ratio)) : 0;
}

}  // namespace

Result<Length> belt_length(const BeltDrive& drive, Length centre_distance) {
  if (auto error = drive_problem(drive)) return std::unexpected(*error);
  const double centre = centre_distance.in(mm);
  if (auto error = first_outside({{"centre distance", centre, 20, kLongestCentre, "mm"}})) {
    return std::unexpected(*error);
  }
  if (centre < touching(drive)) {
    return refuse(Code::kContradiction,
                  fmt::format("At a centre distance of {} mm the pulleys overlap; they touch at {} "
                              "mm.",
                              rounded(centre, 2), rounded(touching(drive), 2)),
                  {.field = "centre distance"});
  }
  return length_at(drive, centre) * mm;
}

Result<BeltRun> belt_run(const BeltDrive& drive, int belt_teeth) {
  if (auto error = drive_problem(drive)) return std::unexpected(*error);
  if (auto error = first_outside({{"belt teeth", static_cast<double>(belt_teeth), 20, 400, ""}})) {
    return std::unexpected(*error);
  }
  const double pitch = drive.pitch.in(mm);
  const double length = belt_teeth * pitch;
  const double shortest = length_at(drive, touching(drive));
  if (length < shortest) {
    return refuse(Code::kContradiction,
                  fmt::format("A belt with {} teeth is too short for pulleys with {} and {}; it "
                              "needs at least {}.",
                              belt_teeth, drive.front, drive.rear, std::ceil(shortest / pitch)),
                  {.field = "belt teeth", .value = std::to_string(belt_teeth)});
  }
  const double centre = centre_at(drive, length);
  const double tilt = std::asin(radius_difference(drive) / centre);
  return BeltRun{.centre_distance = centre * mm,
                 .approximate = catalogue_centre(drive, length) * mm,
                 .span = centre * std::cos(tilt) * mm,
                 .teeth_in_mesh = std::min(drive.front, drive.rear) * (0.5 - tilt / std::numbers::pi),
                 .per_tooth = (centre_at(drive, length + pitch) - centre) * mm};
}

Result<std::vector<BeltFit>> belts_that_fit(const BeltSearch& search) {
  if (auto error = search_problem(search)) return std::unexpected(*error);
  std::vector<BeltFit> fits;
  for (const int front : search.fronts) {
    for (const int rear : search.rears) {
      for (const int belt : search.belts) {
        const auto run = belt_run({front, rear, search.pitch}, belt);
        // A belt too short for this pair is one that does not fit; anything else is a bad number.
        if (!run && run.error().code == Code::kContradiction) continue;
        if (!run) return std::unexpected(run.error());
        const Length room = search.most_centre - run->centre_distance;
        if (run->centre_distance < search.least_centre || room < search.room_to_tighten) continue;
        fits.push_back({front, rear, belt, static_cast<double>(front) / rear, *run, room});
      }
    }
  }
  std::stable_sort(fits.begin(), fits.end(), [&](const BeltFit& a, const BeltFit& b) {
    const double off_a = off_ratio(search, a.ratio);
    const double off_b = off_ratio(search, b.ratio);
    return off_a != off_b ? off_a < off_b : a.room_left > b.room_left;
  });
  return fits;
}

Result<Force> belt_tension(const BeltSpan& span, Frequency pitch) {
  if (auto error = first_outside({{"belt mass", span.mass.in(kg_per_metre), 0.01, 0.5, "kg/m"},
                                  {"belt span", span.span.in(mm), 50, 800, "mm"},
                                  {"pitch", pitch.in(hertz), 5, 300, "Hz"}})) {
    return std::unexpected(*error);
  }
  const double wave_speed = 2 * span.span.in(metre) * pitch.in(hertz);
  return span.mass.in(kg_per_metre) * wave_speed * wave_speed * newton;
}

Result<Frequency> belt_pitch(const BeltSpan& span, Force tension) {
  if (auto error = first_outside({{"belt mass", span.mass.in(kg_per_metre), 0.01, 0.5, "kg/m"},
                                  {"belt span", span.span.in(mm), 50, 800, "mm"},
                                  {"belt tension", tension.in(newton), 1, 5000, "N"}})) {
    return std::unexpected(*error);
  }
  return std::sqrt(tension.in(newton) / span.mass.in(kg_per_metre)) / (2 * span.span.in(metre)) *
         hertz;
}

}  // namespace rollwright::mech
