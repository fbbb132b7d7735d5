#include "truing_wheel.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/index.hpp"

namespace rollwright::bench {
namespace {

using mech::RimDirection;
using mech::RimSection;
using mech::WheelEnd;
using mech::WheelSpoke;

constexpr int kWaves = 72;
constexpr int kPlaces = 180;
constexpr double kTightSide = 1100;  // N
constexpr Force kHighest = 1300 * newton;

RimSection rim_of(double radius_mm, double radial, double lateral, double torsion) {
  return {.radius = radius_mm * mm,
          .bending_radial = radial,
          .bending_lateral = lateral,
          .torsion = torsion,
          .rigidity = 7e6 * newton};
}

struct Hub {
  double left_mm;
  double right_mm;
  double rim_offset_mm = 0;
};

WheelSort sort_of(const RimSection& rim, int spokes, const Hub& hub) {
  const double left_over_right =
      (hub.right_mm + hub.rim_offset_mm) / (hub.left_mm - hub.rim_offset_mm);
  const auto side = [&](double offset, double share) {
    return mech::LacedSide{.flange = {.circle = 45 * mm,
                                      .offset = offset * mm,
                                      .holes = spokes / 2,
                                      .crosses = spokes == 28 ? 2.0 : 3.0},
                           .rigidity = 522e3 * newton,
                           .tension = std::min(1.0, share) * kTightSide * newton};
  };
  return {rim,
          {.left = side(hub.left_mm, left_over_right),
           .right = side(hub.right_mm, 1 / left_over_right),
           .nipple_circle = 2 * rim.radius - 8 * mm,
           .nipples_towards_left = hub.rim_offset_mm * mm}};
}

double mean_of(const std::vector<double>& rows) {
  double sum = 0;
  for (const double row : rows) sum += row;
  return sum / static_cast<double>(rows.size());
}

double run_out_of(const std::vector<double>& rows) {
  const auto [least, most] = std::minmax_element(rows.begin(), rows.end());
  return *most - *least;
}

double between(const std::vector<double>& rows, Angle where) {
  const double place = where.in(degree) * kPlaces / 360;
  const double share = place - std::floor(place);
  const std::size_t below = at(static_cast<int>(std::floor(place))) % kPlaces;
  return (1 - share) * rows[below] + share * rows[(below + 1) % kPlaces];
}

}  // namespace

std::vector<WheelSort> wheel_sorts() {
  const RimSection shallow = rim_of(304, 111, 219, 26.3);  // [wheel-thesis]
  const RimSection deep = rim_of(305, 250, 206, 94);       // [wheel-thesis]; radial invented
  return {sort_of(shallow, 36, {35, 35}), sort_of(shallow, 32, {35, 35}),
          sort_of(deep, 28, {35, 35}),    sort_of(shallow, 32, {26, 36}),
          sort_of(shallow, 36, {37, 18}), sort_of(shallow, 32, {37, 18}),
          sort_of(shallow, 32, {37, 18, 3}), sort_of(deep, 28, {37, 20})};
}

mech::TruingLimits limits_of(const WheelSort& sort) {
  return {.lateral = 0.4 * mm,
          .radial = 0.4 * mm,
          .dish = 0.5 * mm,
          .spread = 0.2,
          .left = sort.lacing.left.tension,
          .right = sort.lacing.right.tension,
          .mean_within = 0.15,
          .highest = kHighest};
}

SimulatedWheel::SimulatedWheel(const WheelSort& sort, Random& random)
    : lateral_(kPlaces), radial_(kPlaces) {
  RimSection rim = sort.rim;
  for (double* each : {&rim.bending_radial, &rim.bending_lateral, &rim.torsion}) {
    *each *= random.lognormal(0, 0.1);
  }
  const auto known = laced(sort.lacing);
  ROLLWRIGHT_PROMISE(known);
  spokes_ = *known;
  const double level = 0.92 + 0.16 * random.uniform();
  const double rigidity = random.lognormal(0, 0.03);
  for (WheelSpoke& spoke : spokes_) {
    spoke.tension = level * spoke.tension;
    spoke.rigidity = rigidity * spoke.rigidity;
    tension_.push_back(spoke.tension.in(newton));
  }
  elbow_factor_ = 0.65 + 0.35 * random.uniform();
  const auto model =
      mech::WheelModel::of(rim, spokes_, {.elbow_factor = elbow_factor_, .waves = kWaves});
  ROLLWRIGHT_PROMISE(model);
  for (std::size_t i = 0; i < spokes_.size(); ++i) {
    turns_.push_back(change_of(*model, model->after_turn(static_cast<int>(i))));
  }
  bend(*model, RimDirection::kLateral, random);
  bend(*model, RimDirection::kRadial, random);
  build(random);
}

SimulatedWheel::Change SimulatedWheel::change_of(const mech::WheelModel& model,
                                                 const mech::WheelShape& shape) {
  Change change{.lateral = {}, .radial = {}, .tension = shape.tension_change};
  for (int i = 0; i < kPlaces; ++i) {
    const Angle where = 360.0 * i / kPlaces * degree;
    change.lateral.push_back(model.move(shape, RimDirection::kLateral, where));
    change.radial.push_back(model.move(shape, RimDirection::kRadial, where));
  }
  return change;
}

void SimulatedWheel::add(const Change& change, double times) {
  for (std::size_t i = 0; i < lateral_.size(); ++i) {
    lateral_[i] += times * change.lateral[i];
    radial_[i] += times * change.radial[i];
  }
  for (std::size_t i = 0; i < tension_.size(); ++i) tension_[i] += times * change.tension[i];
}

/// Smooth bends to five waves, and a dent some 10 degrees wide where the rim is joined.
void SimulatedWheel::bend(const mech::WheelModel& model, RimDirection direction, Random& random) {
  constexpr double kWidth = 0.08;  // radians, standard deviation of the dent's shape
  constexpr int kDentWaves = 40;
  const bool lateral = direction == RimDirection::kLateral;
  const double dent = (lateral ? 0.04 : 0.05) * random.normal();  // mm
  const double joint = 2 * std::numbers::pi * random.uniform();
  for (int waves = 2; waves <= kDentWaves; ++waves) {
    const double of_dent = dent * kWidth * std::sqrt(2 / std::numbers::pi) *
                           std::exp(-0.5 * waves * waves * kWidth * kWidth);
    const double smooth = waves <= 5 ? (lateral ? 0.25 : 0.15) * std::pow(2.0 / waves, 3) : 0;
    const double cosine = of_dent * std::cos(waves * joint) + smooth * random.normal();
    const double sine = of_dent * std::sin(waves * joint) + smooth * random.normal();
    add(change_of(model, model.with_bend({direction, waves, false})), cosine);
    add(change_of(model, model.with_bend({direction, waves, true})), sine);
  }
}

/// Nipples off by 0.15 to 0.5 turns (standard, one figure for a wheel), the sides against each
/// other by 0.1.
void SimulatedWheel::build(Random& random) {
  const double rough = 0.15 + 0.35 * random.uniform();
  const double aside = 0.1 * random.normal();
  for (std::size_t i = 0; i < spokes_.size(); ++i) {
    const double common = spokes_[i].end == WheelEnd::kLeft ? aside : -aside;
    turn(static_cast<int>(i), common + rough * random.normal());
  }
}

void SimulatedWheel::turn(int spoke, double turns) { add(turns_[at(spoke)], turns); }

double SimulatedWheel::tension_n(int spoke) const { return tension_[at(spoke)]; }
double SimulatedWheel::least_tension_n() const {
  return *std::min_element(tension_.begin(), tension_.end());
}
double SimulatedWheel::lateral_mm(Angle where) const { return between(lateral_, where); }
double SimulatedWheel::radial_mm(Angle where) const { return between(radial_, where); }
double SimulatedWheel::dish_mm() const { return mean_of(lateral_); }
double SimulatedWheel::lateral_run_out_mm() const { return run_out_of(lateral_); }
double SimulatedWheel::radial_run_out_mm() const { return run_out_of(radial_); }

double SimulatedWheel::side_mean_n(WheelEnd end) const {
  double sum = 0;
  double count = 0;
  for (std::size_t i = 0; i < spokes_.size(); ++i) {
    if (spokes_[i].end != end) continue;
    sum += tension_[i];
    count += 1;
  }
  return sum / count;
}

bool SimulatedWheel::true_enough(const mech::TruingLimits& limits) const {
  return lateral_run_out_mm() <= limits.lateral.in(mm) &&
         radial_run_out_mm() <= limits.radial.in(mm) &&
         std::fabs(dish_mm()) <= limits.dish.in(mm);
}

bool SimulatedWheel::inside(const mech::TruingLimits& limits) const {
  if (!true_enough(limits)) return false;
  for (const WheelEnd end : {WheelEnd::kLeft, WheelEnd::kRight}) {
    const double mean = side_mean_n(end);
    const Force target = end == WheelEnd::kLeft ? limits.left : limits.right;
    if (std::fabs(mean / target.in(newton) - 1) > limits.mean_within) return false;
    for (std::size_t i = 0; i < spokes_.size(); ++i) {
      if (spokes_[i].end == end && std::fabs(tension_[i] / mean - 1) > limits.spread) return false;
    }
  }
  return *std::max_element(tension_.begin(), tension_.end()) <= limits.highest.in(newton);
}

}  // namespace rollwright::bench
