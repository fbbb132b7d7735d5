#include "mech/truing_influence.hpp"

#include <cmath>

#include "base/index.hpp"

namespace rollwright::mech {
namespace {

constexpr int kDegrees = 360;

std::vector<RimBend> all_bends() {
  std::vector<RimBend> bends;
  for (const auto direction : {RimDirection::kLateral, RimDirection::kRadial}) {
    for (int waves = 2; waves <= kMostBendWaves; ++waves) {
      for (const bool sine : {false, true}) bends.push_back({direction, waves, sine});
    }
  }
  return bends;
}

}  // namespace

TruingInfluence::TruingInfluence(const WheelModel& wheel, double elbow_factor)
    : spokes_(static_cast<int>(wheel.spokes().size())),
      elbow_factor_(elbow_factor),
      bends_(all_bends()) {
  const std::size_t count = at(causes());
  lateral_.resize(kDegrees * count);
  radial_.resize(kDegrees * count);
  tension_.resize(at(spokes_) * count);
  dish_.resize(count);
  for (int i = 0; i < spokes_; ++i) add(wheel, wheel.after_turn(i), at(i));
  for (std::size_t b = 0; b < bends_.size(); ++b) {
    add(wheel, wheel.with_bend(bends_[b]), at(spokes_) + b);
  }
}

void TruingInfluence::add(const WheelModel& wheel, const WheelShape& shape, std::size_t cause) {
  const std::size_t count = at(causes());
  for (int degrees = 0; degrees < kDegrees; ++degrees) {
    const std::size_t place = at(degrees) * count + cause;
    lateral_[place] = wheel.move(shape, RimDirection::kLateral, degrees * degree);
    radial_[place] = wheel.move(shape, RimDirection::kRadial, degrees * degree);
    dish_[cause] += lateral_[place] / kDegrees;
  }
  for (int i = 0; i < spokes_; ++i) tension_[at(i) * count + cause] = shape.tension_change[at(i)];
}

std::vector<double> TruingInfluence::rim_row(RimDirection direction, Angle where) const {
  const std::size_t count = at(causes());
  const auto& table = direction == RimDirection::kLateral ? lateral_ : radial_;
  double degrees = std::fmod(where.in(degree), 360.0);
  if (degrees < 0) degrees += kDegrees;
  const int below = static_cast<int>(degrees) % kDegrees;
  const double share = degrees - std::floor(degrees);
  const double* low = &table[at(below) * count];
  const double* high = &table[at((below + 1) % kDegrees) * count];
  std::vector<double> row(count);
  for (std::size_t c = 0; c < count; ++c) row[c] = (1 - share) * low[c] + share * high[c];
  return row;
}

const double* TruingInfluence::tension_row(int spoke) const {
  return &tension_[at(spoke) * at(causes())];
}

}  // namespace rollwright::mech
